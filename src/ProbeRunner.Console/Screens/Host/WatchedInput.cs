using Terminal.Gui.Drivers;

namespace ProbeRunner.Console.Screens.Host;

/// <summary>The terminal's input with a watch for the halt keys on its own thread.</summary>
internal sealed class WatchedInput(HaltKeyWatch watch) : AnsiInput
{
    /// <inheritdoc />
    public override IEnumerable<char> Read()
    {
        foreach (var character in base.Read())
        {
            watch.Take(character);
            yield return character;
        }
    }
}

/// <summary>The library's terminal driver with watched input.</summary>
internal sealed class WatchedTerminal(HaltKeyWatch watch) : AnsiComponentFactory(null, null, null)
{
    /// <summary>Its name in the library's list of drivers.</summary>
    public const string Name = "proberunner";

    /// <summary>Makes it known to the library, with the watch of this session.</summary>
    public static void Register(HaltKeyWatch watch) => DriverRegistry.Register(
        new DriverRegistry.DriverDescriptor(Name, "Terminal", "The terminal, with a watch for the halt keys.", [PlatformID.Unix, PlatformID.MacOSX, PlatformID.Win32NT], () => new WatchedTerminal(watch)));

    /// <inheritdoc />
    public override IInput<char> CreateInput() => new WatchedInput(watch);
}
