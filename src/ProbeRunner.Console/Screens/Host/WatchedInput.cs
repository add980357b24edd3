using Terminal.Gui.Drivers;

namespace ProbeRunner.Console.Screens.Host;

/// <summary>
/// The terminal's input with a watch for the halt keys on its own thread. A terminal that has hung up reads as ready and empty for ever:
/// from then on there is nothing to read, so that the library's loop can end.
/// </summary>
/// <param name="watch">Sees every character.</param>
/// <param name="hungUp">Called once when the terminal has gone.</param>
internal sealed class WatchedInput(HaltKeyWatch watch, Action hungUp) : AnsiInput
{
    private const int EmptyReadsOfNoTerminal = 3;
    private static readonly TimeSpan Wait = TimeSpan.FromMilliseconds(100);
    private int emptyReads;

    /// <inheritdoc />
    public override bool Peek()
    {
        if (emptyReads >= EmptyReadsOfNoTerminal)
        {
            return false;
        }

        // The library would look again every few milliseconds; here the thread sleeps until there is something.
        TerminalAttributes.WaitForInput(Wait);
        return base.Peek();
    }

    /// <inheritdoc />
    public override IEnumerable<char> Read()
    {
        var isEmpty = true;
        foreach (var character in base.Read())
        {
            isEmpty = false;
            watch.Take(character);
            yield return character;
        }

        emptyReads = isEmpty ? emptyReads + 1 : 0;
        if (emptyReads == EmptyReadsOfNoTerminal)
        {
            hungUp();
        }
    }
}

/// <summary>The library's terminal driver with watched input.</summary>
internal sealed class WatchedTerminal(HaltKeyWatch watch, Action hungUp) : AnsiComponentFactory(null, null, null)
{
    /// <summary>Its name in the library's list of drivers: it takes the place of the one that the library knows how to start.</summary>
    public const string Name = DriverRegistry.Names.ANSI;

    /// <summary>Makes it known to the library, with the watch of this session.</summary>
    public static void Register(HaltKeyWatch watch, Action hungUp) => DriverRegistry.Register(
        new DriverRegistry.DriverDescriptor(Name, "Terminal", "The terminal, with a watch for the halt keys.", [PlatformID.Unix, PlatformID.MacOSX, PlatformID.Win32NT], () => new WatchedTerminal(watch, hungUp)));

    /// <inheritdoc />
    public override IInput<char> CreateInput() => new WatchedInput(watch, hungUp);
}
