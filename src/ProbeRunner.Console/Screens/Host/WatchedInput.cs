using System.Text;
using Terminal.Gui.Drivers;

namespace ProbeRunner.Console.Screens.Host;

/// <summary>
/// The terminal's input, read by ourselves: with a watch for the halt keys on the reading thread, asleep while there is nothing, and ended
/// when the terminal has hung up, which then reads as ready and empty for ever. The library still sets the terminal up.
/// </summary>
/// <param name="watch">Sees every character.</param>
/// <param name="hungUp">Called once when the terminal has gone.</param>
internal sealed class WatchedInput(HaltKeyWatch watch, Action hungUp) : AnsiInput
{
    private static readonly TimeSpan LongestSleep = TimeSpan.FromMilliseconds(100);
    private readonly Decoder decoder = Encoding.UTF8.GetDecoder();
    private readonly byte[] bytes = new byte[1024];
    private readonly char[] characters = new char[1024];
    private volatile bool isGone;

    /// <inheritdoc />
    public override bool Peek()
    {
        if (isGone)
        {
            return false;
        }

        var state = TerminalInput.Wait(LongestSleep);
        if (state == TerminalInputState.Gone)
        {
            Gone();
        }

        return state == TerminalInputState.Ready;
    }

    /// <inheritdoc />
    public override IEnumerable<char> Read()
    {
        var count = TerminalInput.Read(bytes);
        if (count == 0)
        {
            Gone();
        }

        if (count <= 0)
        {
            yield break; // interrupted: the library comes again
        }

        var decoded = decoder.GetChars(bytes, 0, count, characters, 0);
        for (var at = 0; at < decoded; at++)
        {
            watch.Take(characters[at]);
            yield return characters[at];
        }
    }

    /// <inheritdoc />
    public override void Dispose()
    {
        // The library's way out first reads away what is waiting, and from a terminal that has gone there is no end of that.
        if (!isGone && TerminalInput.Wait(TimeSpan.Zero) != TerminalInputState.Gone)
        {
            base.Dispose();
        }
    }

    private void Gone()
    {
        if (!isGone)
        {
            isGone = true;
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
