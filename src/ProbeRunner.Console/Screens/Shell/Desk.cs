using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;

namespace ProbeRunner.Console.Screens.Shell;

/// <summary>
/// The screens one upon another, and what is the same on all of them: going back, help, the command list, hold, stop and halt.
/// It knows no terminal; everything in it happens on one thread.
/// </summary>
internal sealed class Desk(TimeProvider time, Palette palette)
{
    private static readonly TimeSpan HaltWindow = TimeSpan.FromSeconds(3);
    private readonly List<Screen> screens = [];
    private long? firstStop;

    /// <summary>Something has changed that should be drawn.</summary>
    public event Action? Changed;

    /// <summary>The person wants to leave the program.</summary>
    public event Action? QuitAsked;

    /// <summary>A text is to be handed to the terminal's clipboard.</summary>
    public event Action<string>? CopyAsked;

    /// <summary>How roles look on this terminal.</summary>
    public Palette Palette { get; } = palette;

    /// <summary>The clock of whatever is on the desk.</summary>
    public TimeProvider Time { get; } = time;

    /// <summary>The machine's reins.</summary>
    public IReins Reins { get; set; } = NoReins.Instance;

    /// <summary>What the person was told last; null when there is nothing to tell.</summary>
    public Notice? Notice { get; private set; }

    /// <summary>The screen in front.</summary>
    public Screen Front => screens[^1];

    /// <summary>The screen in front and those seen behind it, the hindmost first.</summary>
    public IEnumerable<Screen> InSight => screens.Skip(Math.Max(0, screens.FindLastIndex(screen => !screen.IsDialog)));

    /// <summary>Whether there is a screen to go back to.</summary>
    public bool CanGoBack => screens.Count > 1;

    /// <summary>The keys that work now, the screen's own first.</summary>
    public IEnumerable<KeyEntry> Keys => Front.Keys.Concat(Common());

    /// <summary>Opens a screen in front of the others.</summary>
    public void Open(Screen screen)
    {
        screens.Add(screen);
        Redraw();
    }

    /// <summary>Leaves the front screen, if it is not the last.</summary>
    public void Back()
    {
        if (CanGoBack)
        {
            Front.Leave();
            screens.RemoveAt(screens.Count - 1);
            Redraw();
        }
    }

    /// <summary>Leaves a screen wherever it is, with all in front of it.</summary>
    public void Close(Screen screen)
    {
        while (CanGoBack && screens.Contains(screen))
        {
            Back();
        }
    }

    /// <summary>Tells the person something.</summary>
    public void Tell(string text, Role role = Role.Accent)
    {
        Notice = new Notice(text, role);
        Redraw();
    }

    /// <summary>Takes back what the person was told last.</summary>
    public void Forget() => Notice = null;

    /// <summary>Has the desk drawn again.</summary>
    public void Redraw() => Changed?.Invoke();

    /// <summary>Hands a text to the terminal's clipboard.</summary>
    public void Copy(string text, string what)
    {
        CopyAsked?.Invoke(text);
        Tell($"Copied: {what}. Where the terminal does not pass copies on, read it here: {text}");
    }

    /// <summary>Asks to leave the program; refused while the machine is under way.</summary>
    public void Quit()
    {
        if (Reins.IsUnderWay)
        {
            Tell("A run is under way, so the program stays. Stop it first with F7; it can be resumed later.", Role.Warning);
            return;
        }

        QuitAsked?.Invoke();
    }

    /// <summary>A key was pressed.</summary>
    public void Press(Stroke stroke)
    {
        Notice = null;
        Dispatch(stroke);
        Redraw();
    }

    /// <summary>Text was pasted.</summary>
    public void Paste(string text)
    {
        if (Front.TakesText)
        {
            Front.Paste(text);
            Redraw();
        }
    }

    private void Dispatch(Stroke stroke)
    {
        if (Safety(stroke))
        {
            return;
        }

        if (Front.TakesText && Front.Type(stroke))
        {
            return;
        }

        var entry = Keys.FirstOrDefault(entry => entry.Strokes.Contains(stroke) && !(Front.TakesText && stroke.IsText));
        Do(entry, stroke);
    }

    /// <summary>Does what an entry says, or says why not.</summary>
    public void Do(KeyEntry? entry, Stroke stroke)
    {
        if (entry?.WhyNot is { } why)
        {
            Tell(why, Role.Warning);
        }
        else
        {
            entry?.Act(stroke);
        }
    }

    private bool Safety(Stroke stroke)
    {
        if (stroke == SafetyKeys.Halt || stroke == SafetyKeys.HaltToo)
        {
            Tell(Reins.Halt(), Role.Bad);
        }
        else if (stroke == SafetyKeys.Stop || (stroke == SafetyKeys.StopOrQuit && Reins.IsUnderWay))
        {
            Stop(isControlC: stroke == SafetyKeys.StopOrQuit);
        }
        else if (stroke == SafetyKeys.StopOrQuit)
        {
            Quit();
        }
        else if (stroke == SafetyKeys.Hold || stroke == SafetyKeys.HoldToo)
        {
            Tell(Reins.HoldOrGoOn());
        }
        else
        {
            return false;
        }

        return true;
    }

    /// <summary>As in the plain mode: Ctrl-C asks to stop, again within three seconds halts.</summary>
    private void Stop(bool isControlC)
    {
        var isAgain = isControlC && firstStop is { } first && Time.GetElapsedTime(first) < HaltWindow;
        firstStop = isControlC && !isAgain ? Time.GetTimestamp() : null;
        Tell(
            isAgain ? Reins.Halt() : Reins.Stop() + (isControlC ? " Ctrl-C again within 3 s halts at once." : string.Empty),
            isAgain ? Role.Bad : Role.Warning);
    }

    private IEnumerable<KeyEntry> Common()
    {
        if (CanGoBack)
        {
            yield return KeyEntry.Of("back", "Goes back to the screen before; never leaves the program.", Back, Stroke.Escape) with { WhyNot = Front.WhyStay };
        }

        if (Front is not HelpScreen)
        {
            yield return KeyEntry.Of("help", "Explains this place and its keys.", () => Open(new HelpScreen(this)), '?', Stroke.Function(1)) with { IsCommand = false };
        }

        if (Front is not CommandListScreen)
        {
            yield return KeyEntry.Of("commands", "Lists what can be done here; type to search.", () => Open(new CommandListScreen(this)), Stroke.Function(2), Stroke.Control('k')) with { IsCommand = false };
        }

        yield return KeyEntry.Of("quit", "Leaves the program while no run is under way; asks a run to stop while one is.", Quit, SafetyKeys.StopOrQuit, Stroke.Control('q')) with
        {
            InFooter = !CanGoBack,
            WhyNot = Reins.IsUnderWay ? "A run is under way. Stop it first with F7; it can be resumed later." : null,
        };
    }
}
