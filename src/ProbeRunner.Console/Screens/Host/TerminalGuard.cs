namespace ProbeRunner.Console.Screens.Host;

/// <summary>
/// Sees to it that the terminal is as it was, however the screens end: the library restores it on the ordinary way out only. Errors are
/// printed after that, where they can be read.
/// </summary>
internal sealed class TerminalGuard : IDisposable
{
    /// <summary>
    /// Synchronized output, all mouse modes and bracketed paste off, keyboard mode popped, colours as usual, cursor shown, the ordinary
    /// screen back (the private modes of xterm, ECMA-48 for the rest).
    /// </summary>
    internal const string WayOut = "\u001b[?2026l\u001b[?1003l\u001b[?1002l\u001b[?1000l\u001b[?1015l\u001b[?1006l\u001b[?2004l\u001b[<u\u001b[0m\u001b[?25h\u001b[?1049l";

    private readonly TerminalAttributes attributes = TerminalAttributes.Save();
    private readonly Action<string> write;
    private int isOver;

    /// <summary>Guards the terminal from now on.</summary>
    /// <param name="write">Writes to the terminal.</param>
    public TerminalGuard(Action<string> write)
    {
        this.write = write;
        AppDomain.CurrentDomain.UnhandledException += OnUnhandled;
        AppDomain.CurrentDomain.ProcessExit += OnExit;
    }

    /// <summary>The library has left the terminal in order; only the line settings are put back once more.</summary>
    public void LeftInOrder()
    {
        if (Interlocked.Exchange(ref isOver, 1) == 0)
        {
            attributes.Restore();
        }
    }

    /// <summary>Restores the terminal, once.</summary>
    public void Restore()
    {
        if (Interlocked.Exchange(ref isOver, 1) != 0)
        {
            return;
        }

        try
        {
            write(WayOut);
        }
        catch (IOException)
        {
            // The terminal is gone; there is nothing to restore.
        }

        attributes.Restore();
    }

    /// <inheritdoc />
    public void Dispose()
    {
        Restore();
        AppDomain.CurrentDomain.UnhandledException -= OnUnhandled;
        AppDomain.CurrentDomain.ProcessExit -= OnExit;
    }

    private void OnUnhandled(object sender, UnhandledExceptionEventArgs e) => Restore();

    private void OnExit(object? sender, EventArgs e) => Restore();
}
