using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Screens.Running;
using ProbeRunner.Console.Screens.Shell;
using ProbeRunner.Console.Screens.Watching;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Tracing;

namespace ProbeRunner.Console.Tests.Screens.Whole;

/// <summary>A run in whatever state a test wants it.</summary>
internal sealed class FakeRun : IShownRun, IReins
{
    private static readonly ProfileCatalogue Catalogue = new([Path.Combine(AppContext.BaseDirectory, "profiles")]);

    public event Action? Changed;

    public RunOrder Order { get; init; } = new("Commission a machine", "wren-240", new Connection.ToSimulator("good", null, 20), "commission");

    public static MachineProfile Profile => Catalogue.Machine("wren-240");

    /// <summary>A script of its own, so that the captures don't change with the shipped one.</summary>
    public static RunScript Script => Of("preflight", "first-lift", "home-xy", "self-check", "first-home-z", "series", "step-down", "grid", "mesh", "store", "verify", "conclusions");

    /// <summary>A script of these steps.</summary>
    public static RunScript Of(params string[] steps) => RunScript.Parse(
        "title = \"Commission a machine\"\npurpose = \"Takes the machine from 'the wiring is in' to an offset and a mesh that are stored and proven.\"\n"
        + string.Concat(steps.Select(step => $"[[step]]\ndo = \"{step}\"\n")),
        "commission.toml");

    /// <summary>The script of this run; the usual one unless a test wants other steps.</summary>
    public RunScript Shown { get; init; } = Script;

    public RunView View { get; set; } = RunView.Empty;

    public AskedQuestion? Question { get; set; }

    public MachineView? Machine { get; set; }

    public WireTrace? Wire { get; set; }

    public double Speed => 1;

    public bool IsUnderWay { get; set; } = true;

    public bool IsHeld { get; set; }

    public Failure? Failure { get; set; }

    public EndedRun? Ended { get; set; }

    public bool CanAnswerItself { get; init; }

    public bool AnswersItself { get; set; }

    public string State => IsHeld ? "wren-240 HELD" : IsUnderWay ? "wren-240 running" : string.Empty;

    public List<string> Asked { get; } = [];

    public Action<string> Noted { get; init; } = _ => { };

    public string HoldOrGoOn() => Note("hold");

    public string Stop() => Note("stop");

    public string Halt() => Note("halt");

    public void Tell(params RunEvent[] events)
    {
        View = View.IsEmpty ? RunView.Of(Shown, Profile) : View;
        foreach (var told in events)
        {
            View = View.After(told);
        }

        Changed?.Invoke();
    }

    /// <summary>A machine that is homed, lukewarm and well.</summary>
    public static MachineView Known() => new(
        Profile,
        new PrinterSnapshot(Axes.All, 1, new NozzlePosition(120, 110, 7.2), false, ProbeState.Open, false, true, new Temperatures(24.1, 0, 22.8, 0, DateTimeOffset.UnixEpoch), 0),
        new LinkHealth(412, 0, 0, 0, 0, 0, TimeSpan.FromMilliseconds(3.1)),
        true);

    /// <summary>Goes to a step of the script.</summary>
    public void GoTo(string step, bool resumed = false)
    {
        var script = Shown;
        Tell(new RunStarted(TimeSpan.Zero, "20261125-1402-k3v", "wren-240", "commission", resumed));
        var index = script.Steps.IndexOf(script.Steps.First(one => one.Name == step));
        Tell(new StepStarted(TimeSpan.FromSeconds(65), step, script.Steps[index].Title, index, script.Steps.Length));
    }

    public void Read(int number, double z) =>
        Tell(new ReadingTaken(TimeSpan.FromSeconds(70 + number), "series", number, 40, 1, new Reading(new BedPoint(120, 120), z, DateTimeOffset.UnixEpoch, 1, false)));

    public AskedQuestion Ask(Prompt prompt, string? hint = null)
    {
        Question = new AskedQuestion(prompt, hint, AskedAt: 0);
        Changed?.Invoke();
        return Question;
    }

    private string Note(string what)
    {
        Asked.Add(what);
        Noted(what);
        return $"{what} asked for";
    }
}
