using System.Collections.Concurrent;
using System.Text;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Shell;
using Terminal.Gui.App;

namespace ProbeRunner.Console.Screens.Host;

/// <summary>Puts a desk on the terminal, and the only place from which other threads reach it.</summary>
internal sealed class TerminalHost
{
    private const ushort BusyIterationsPerSecond = 50;
    private const ushort IdleIterationsPerSecond = 15;
    private static readonly TimeSpan BusyFor = TimeSpan.FromSeconds(3);
    private readonly ScreenOptions options;
    private readonly HaltKeyWatch watch;
    private readonly ConcurrentQueue<Action> posted = new();
    private volatile IApplication? application;
    private volatile bool hasEnded;

    /// <summary>Prepares the terminal; nothing is shown yet.</summary>
    /// <param name="options">How the screens look.</param>
    /// <param name="halt">Halts the machine, whatever thread it is called on.</param>
    public TerminalHost(ScreenOptions options, Action halt) => (this.options, watch) = (options, new HaltKeyWatch(halt));

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
        application?.Invoke(DoPosted);
    }

    /// <summary>Ends the screens, from any thread.</summary>
    public void End() => Post(() => application?.RequestStop());

    /// <summary>Shows the desk until the person leaves.</summary>
    /// <returns>What broke the screens; null when nothing did.</returns>
    public Exception? Show(Desk desk)
    {
        Exception? failure = null;
        using var guard = new TerminalGuard(text => { System.Console.Out.Write(text); System.Console.Out.Flush(); });
        using var rest = desk.Time.CreateTimer(_ => Application.MaximumIterationsPerSecond = IdleIterationsPerSecond, null, BusyFor, System.Threading.Timeout.InfiniteTimeSpan);
        void Quicken()
        {
            Application.MaximumIterationsPerSecond = BusyIterationsPerSecond;
            rest.Change(BusyFor, System.Threading.Timeout.InfiniteTimeSpan);
        }

        Application.MaximumIterationsPerSecond = BusyIterationsPerSecond;
        desk.Changed += Quicken;
        try
        {
            using var app = Application.Create();
            app.Init(DriverName());
            app.Driver!.Force16Colors = desk.Palette.Depth == ColourDepth.Sixteen;
            app.Mouse.IsMouseDisabled = !options.Mouse;
            using var window = new BenchWindow(desk);
            desk.QuitAsked += app.RequestStop;
            desk.CopyAsked += text => app.Driver?.WriteRaw(ClipboardSequence(text));
            application = app;
            app.Invoke(DoPosted);
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
            desk.Changed -= Quicken;
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

    private string? DriverName()
    {
        if (OperatingSystem.IsWindows())
        {
            return null;
        }

        WatchedTerminal.Register(watch, () => HungUp?.Invoke());
        return WatchedTerminal.Name;
    }
}
