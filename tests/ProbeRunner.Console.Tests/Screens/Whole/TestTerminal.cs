using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Host;
using ProbeRunner.Console.Screens.Shell;
using Terminal.Gui.App;
using Terminal.Gui.Drivers;
using Terminal.Gui.Input;
using Terminal.Gui.Testing;
using Terminal.Gui.Time;

namespace ProbeRunner.Console.Tests.Screens.Whole;

/// <summary>The library keeps keys and drivers in static places: tests on its driver don't run side by side.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class TerminalTests
{
    public const string Name = "terminal";
}

/// <summary>The desk on the library's test driver: what is injected goes the way of real keys, what is read is what the driver would send.</summary>
internal sealed class TestTerminal : IDisposable
{
    private readonly IApplication application;
    private readonly BenchWindow window;

    static TestTerminal() => Environment.SetEnvironmentVariable("DisableRealDriverIO", "1");

    public TestTerminal(Desk desk, int columns = 80, int rows = 24)
    {
        application = Application.Create(new VirtualTimeProvider());
        application.Init(DriverRegistry.Names.ANSI);
        application.Driver!.SetScreenSize(columns, rows);
        window = new BenchWindow(desk);
        application.Begin(window);
        application.LayoutAndDraw();
    }

    /// <summary>A desk for tests: colourless unless said otherwise.</summary>
    public static Desk Desk(Palette? palette = null, TimeProvider? time = null) => new(time ?? TimeProvider.System, palette ?? new Palette(ColourDepth.Monochrome));

    /// <summary>The screen as text, trailing spaces cut off.</summary>
    public string Text
    {
        get
        {
            application.LayoutAndDraw();
            return string.Join('\n', application.Driver!.ToString()!.ReplaceLineEndings("\n").Split('\n').Select(line => line.TrimEnd())).TrimEnd() + "\n";
        }
    }

    /// <summary>The screen as the bytes that would be sent.</summary>
    public string Ansi
    {
        get
        {
            application.LayoutAndDraw();
            return application.Driver!.ToAnsi();
        }
    }

    public void Resize(int columns, int rows)
    {
        application.Driver!.SetScreenSize(columns, rows);
        window.SetNeedsDraw();
    }

    public void Press(params Key[] keys)
    {
        foreach (var key in keys)
        {
            application.InjectKey(key);
        }
    }

    public void Dispose()
    {
        window.Dispose();
        application.Dispose();
    }
}
