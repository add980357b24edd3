using System.Collections.Immutable;
using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;
using ProbeRunner.Console.Screens.Shell;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Console.Screens.Start;

/// <summary>Where a session begins: which machine, on which port, what to do today; runs to take up again; last results.</summary>
internal sealed class StartScreen : Screen
{
    private readonly Desk desk;
    private readonly IStartActions actions;
    private readonly ListCursor[] cursors = [new(), new(), new(), new(), new()];
    private StartFacts facts = StartFacts.None;
    private Pane focus = Pane.Work;
    private bool isLooking = true;
    private string wantedMachine;
    private string wantedPort;

    /// <summary>Makes the screen; what there is comes with <see cref="Show"/>.</summary>
    public StartScreen(Desk desk, IStartActions actions, Remembered remembered)
    {
        (this.desk, this.actions) = (desk, actions);
        (wantedMachine, wantedPort) = (remembered.Machine, remembered.Port);
    }

    private enum Pane
    {
        Machine,
        Port,
        Work,
        Unfinished,
        Results,
    }

    /// <inheritdoc />
    public override string Title => "Start";

    /// <inheritdoc />
    public override string Explanation =>
        "Choose a machine (1), the port it is on (2) and what to do today (3), then press Enter: nothing moves before you have confirmed that hands are clear. "
        + "The simulated printer needs no machine and is the place to try everything first. Runs that were cut off can be taken up where they stopped (4); results stay (5).\n"
        + "A printer is hot, strong and on mains: keep the mains switch in reach, never leave it heated alone, and follow its maker's instructions and your local rules.";

    /// <inheritdoc />
    public override IEnumerable<KeyEntry> Keys
    {
        get
        {
            yield return KeyEntry.Of(EnterWord, "Takes what is chosen: begins the work, takes a run up again, opens results.", Choose, Stroke.Enter) with { WhyNot = WhyNotEnter };
            yield return KeyEntry.UpDown("choose", "Chooses within the pane.", by => Move(by));
            yield return new KeyEntry([Stroke.Tab, Stroke.BackTab], "next pane", "Goes to the next pane, or back with Shift.", stroke => Step(stroke == Stroke.Tab ? 1 : -1)) { IsCommand = false };
            yield return new KeyEntry(['1', '2', '3', '4', '5'], "pane", "Goes to the pane of that number.", stroke => focus = (Pane)(stroke.Name[0] - '1')) { InFooter = false, IsCommand = false };
            yield return KeyEntry.Of("first visit", "A guided first visit on the simulated printer, about ten minutes.", actions.FirstVisit, 'g');
            yield return KeyEntry.Of("new machine", "Describes a new machine, with a picture that grows as you type.", actions.NewMachine, 'n');
            yield return KeyEntry.Of("compare", "Compares the chosen result's map with an earlier one of the same machine.", () => actions.Compare(ChosenRun!), 'c') with
            {
                InFooter = focus == Pane.Results,
                WhyNot = ChosenRun is null ? "Choose a result first (5)." : null,
            };
            yield return KeyEntry.Of("look again", "Looks for ports, machines and runs again.", LookAgain, 'r');
        }
    }

    private MachineChoice? Machine => facts.Machines.ElementAtOrDefault(cursors[0].At);

    private ImmutableArray<PortChoice> Ports => [.. facts.Ports.Where(port => port.ForMachine is null || port.ForMachine == Machine?.Name)];

    private PortChoice? Port => Ports.ElementAtOrDefault(cursors[1].At);

    private ScriptChoice? Work => facts.Scripts.ElementAtOrDefault(cursors[2].At);

    private ImmutableArray<RunListing> Unfinished => [.. facts.Runs.Where(run => run.IsResumable && run.MachineName == Machine?.Name)];

    private ImmutableArray<RunListing> Results => [.. facts.Runs.Where(run => run.MachineName == Machine?.Name || run.State == RunState.Damaged)];

    private RunListing? ChosenRun => (focus == Pane.Unfinished ? Unfinished : Results).ElementAtOrDefault(cursors[(int)focus == 3 ? 3 : 4].At);

    private string EnterWord => focus switch
    {
        Pane.Machine or Pane.Port => "take it",
        Pane.Work => "begin",
        Pane.Unfinished => "take up again",
        _ => "open",
    };

    private string? WhyNotEnter => focus switch
    {
        Pane.Machine => Machine is null ? "There is no machine to choose yet; n describes one." : Machine.Fault,
        Pane.Port => Port is null ? "There is no port." : null,
        Pane.Work => Machine?.Profile is null ? Machine?.Fault ?? "Choose a machine first (1)." : Work?.Fault ?? (Port is null ? "Choose a port first (2)." : null),
        Pane.Unfinished => Unfinished.IsEmpty ? "There is nothing to take up again." : null,
        _ => Results.IsEmpty ? "This machine has no results yet." : null,
    };

    /// <summary>Shows what was found, keeping what was chosen.</summary>
    public void Show(StartFacts found)
    {
        var (machine, port) = (Machine?.Name ?? wantedMachine, Port?.Name ?? wantedPort);
        (facts, isLooking) = (found, false);
        cursors[0].Set(Math.Max(0, facts.Machines.IndexOf(facts.Machines.FirstOrDefault(choice => choice.Name == machine)!)), facts.Machines.Length);
        var ports = Ports;
        var at = ports.IndexOf(ports.FirstOrDefault(choice => choice.Name == port)!);
        cursors[1].Set(at >= 0 ? at : FirstSimulated(ports), ports.Length);
        if (!facts.Troubles.IsEmpty)
        {
            desk.Tell(string.Join(" ", facts.Troubles), Role.Warning);
        }

        desk.Redraw();
    }

    /// <summary>The ports there are, whichever machine is chosen.</summary>
    public ImmutableArray<PortChoice> AllPorts => facts.Ports;

    /// <inheritdoc />
    public override void Draw(CellCanvas canvas, Palette palette) => StartPicture.Draw(canvas, Layout(canvas), ViewNow);

    /// <inheritdoc />
    public override void Click(int column, int row)
    {
        for (var pane = 0; pane < cursors.Length; pane++)
        {
            if (lastLayout[pane].Contains(column, row))
            {
                focus = (Pane)pane;
                cursors[pane].Set(cursors[pane].ItemAt(row - lastLayout[pane].Top - 1), Count(focus));
            }
        }
    }

    /// <inheritdoc />
    public override void Wheel(int rows) => Move(rows);

    private readonly Rect[] lastLayout = new Rect[5];

    private StartView ViewNow => new(
        facts, isLooking, (int)focus, cursors, Machine, Ports, Unfinished, Results, Work);

    private Rect[] Layout(CellCanvas canvas)
    {
        var area = canvas.Area;
        var (left, right) = area.CutLeft(Math.Clamp(area.Columns * 42 / 100, 34, 50));
        right = new Rect(right.Left + 1, right.Top, right.Columns - 1, right.Rows);
        var machineRows = Math.Clamp(facts.Machines.Length + 1, 3, Math.Max(3, area.Rows / 4));
        (lastLayout[0], var rest) = left.CutTop(machineRows);
        (lastLayout[1], lastLayout[3]) = rest.CutTop(Math.Max(6, rest.Rows * 55 / 100));
        (lastLayout[2], lastLayout[4]) = right.CutTop(Math.Clamp(facts.Scripts.Length + 6, 9, Math.Max(9, area.Rows * 60 / 100)));
        return lastLayout;
    }

    private int Count(Pane pane) => pane switch
    {
        Pane.Machine => facts.Machines.Length,
        Pane.Port => Ports.Length,
        Pane.Work => facts.Scripts.Length,
        Pane.Unfinished => Unfinished.Length,
        _ => Results.Length,
    };

    private void Move(int by)
    {
        cursors[(int)focus].Move(by, Count(focus));
        if (focus == Pane.Machine)
        {
            cursors[1].Set(FirstSimulated(Ports), Ports.Length);
        }
    }

    /// <summary>Where nothing real moves: what is chosen until a person chooses.</summary>
    private static int FirstSimulated(ImmutableArray<PortChoice> ports) => Math.Max(0, ports.IndexOf(ports.FirstOrDefault(port => port.IsSimulated)!));

    private void Step(int by) => focus = (Pane)(((int)focus + by + cursors.Length) % cursors.Length);

    private void LookAgain()
    {
        isLooking = true;
        (wantedMachine, wantedPort) = (Machine?.Name ?? wantedMachine, Port?.Name ?? wantedPort);
        actions.LookAgain();
    }

    private void Choose()
    {
        switch (focus)
        {
            case Pane.Machine or Pane.Port:
                Step(1);
                break;
            case Pane.Work:
                actions.Begin(Machine!, Port!, Work!);
                break;
            case Pane.Unfinished:
                actions.Resume(ChosenRun!, Port);
                break;
            default:
                actions.OpenResults(ChosenRun!);
                break;
        }
    }
}
