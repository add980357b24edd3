using System.Collections.Concurrent;
using System.Runtime.InteropServices;
using System.Text;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Shell;
using Terminal.Gui.App;
using Terminal.Gui.Drivers;

namespace ProbeRunner.Console.Screens.Host;

/// <summary>Puts a desk on the terminal, and the only place from which other threads reach it.</summary>
internal sealed class TerminalHost
{
    /// <summary>The library's own pace; ours is <see cref="Pace"/>.</summary>
    private const ushort AsOftenAsWoken = 1000;

    private static readonly TimeSpan WhereWoken = TimeSpan.FromMilliseconds(500);

    /// <summary>On Windows the library reads the keys itself and tells nobody.</summary>
    private static readonly TimeSpan WhereNotWoken = TimeSpan.FromMilliseconds(25);

    private readonly ScreenOptions options;
    private readonly SafetyKeyWatch watch;
    private readonly Pace pace;
    private readonly ConcurrentQueue<Action> posted = new();
    private volatile IApplication? application;
    private volatile bool hasEnded;

    /// <summary>Prepares the terminal; nothing is shown yet.</summary>
    /// <param name="options">How the screens look.</param>
    /// <param name="time">The screens' clock.</param>
    /// <param name="reins">The reins of the machine now, for the keys that stop and halt; asked on the thread that reads the terminal.</param>
    public TerminalHost(ScreenOptions options, TimeProvider time, Func<IReins?> reins) =>
        (this.options, watch, pace) = (options, new SafetyKeyWatch(time, reins), new Pace(time, OperatingSystem.IsWindows() ? WhereNotWoken : WhereWoken));

    /// <summary>The terminal has gone; raised on the thread that reads it.</summary>
    public event Action? HungUp;

    /// <summary>Has something done on the screens' thread: once they are there, and no more once they have ended.</summary>
    public void Post(Action action)
    {
        if (hasEnded)
        {
            return;
        }

        posted.Enqueue(action);
        pace.Wake();
    }

    /// <summary>Ends the screens, from any thread.</summary>
    public void End() => Post(() => application?.RequestStop());

    /// <summary>Shows the desk until the person leaves.</summary>
    /// <returns>What broke the screens; null when nothing did.</returns>
    public Exception? Show(Desk desk)
    {
        Exception? failure = null;
        using var guard = new TerminalGuard(text => { System.Console.Out.Write(text); System.Console.Out.Flush(); });
        using var resized = OperatingSystem.IsWindows() ? null : PosixSignalRegistration.Create(PosixSignal.SIGWINCH, _ => pace.InputCame());
        Application.MaximumIterationsPerSecond = AsOftenAsWoken;
        try
        {
            using var app = NewApplication();
            app.Init(DriverRegistry.Names.ANSI);
            app.Driver!.Force16Colors = desk.Palette.Depth == ColourDepth.Sixteen;
            app.Mouse.IsMouseDisabled = !options.Mouse;
            using var window = new BenchWindow(desk);
            desk.QuitAsked += app.RequestStop;
            desk.CopyAsked += text => app.Driver?.WriteRaw(ClipboardSequence(text));
            application = app;
            app.Iteration += (_, _) =>
            {
                pace.Wait();
                DoPosted();
            };
            app.Run(window, broken =>
            {
                failure = broken;
                app.RequestStop();
                return true;
            });
        }
        catch (Exception broken) when (failure is null)
        {
            failure = broken;
        }
        finally
        {
            (hasEnded, application) = (true, null);
        }

        if (failure is null)
        {
            guard.LeftInOrder();
        }

        return failure;
    }

    /// <summary>OSC 52, by which a terminal takes a text to its clipboard (xterm control sequences).</summary>
    internal static string ClipboardSequence(string text) => $"\u001b]52;c;{Convert.ToBase64String(Encoding.UTF8.GetBytes(text))}\u0007";

    private void DoPosted()
    {
        while (posted.TryDequeue(out var action))
        {
            action();
        }
    }

    /// <summary>The system's own calls are not to be had on Windows: there the library reads, and the halt keys wait for the screens.</summary>
    private IApplication NewApplication() => OperatingSystem.IsWindows()
        ? Application.Create()
        : new WatchedTerminal(() => new WatchedInput(watch, pace.InputCame, () => HungUp?.Invoke())).Application();
}
