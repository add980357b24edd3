using System.Collections.Immutable;
using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Screens.After;
using ProbeRunner.Console.Screens.Guide;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Console.Screens.Profiles;
using ProbeRunner.Console.Screens.Running;
using ProbeRunner.Console.Screens.Shell;
using ProbeRunner.Console.Screens.Start;
using ProbeRunner.Console.Tests.Screens.Pictures;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Console.Tests.Screens.Whole;

/// <summary>Every screen in every state worth looking at.</summary>
internal static class ScreenSamples
{
    private static readonly StepVerdict Fit = new(VerdictWord.Fit, 0.96, "Sigma is 0.0032 mm, good is 0.005 mm.");

    private static readonly Prompt Paper = Prompts.Choose(
        "step-down.paper", "How does the paper feel now?", "The height at which paper begins to drag gives the Z offset.", ("free", "moves freely"), ("drags", "drags, still moves"), ("pinched", "does not move"));

    /// <summary>By name: what is opened on an empty desk.</summary>
    public static IReadOnlyDictionary<string, Action<Desk>> All { get; } = new Dictionary<string, Action<Desk>>
    {
        ["start-looking"] = desk => desk.Open(new StartScreen(desk, new NoActions(), new Remembered())),
        ["start"] = desk => Start(desk, Facts(runs: true)),
        ["start-empty"] = desk => Start(desk, StartFacts.None),
        ["confirm"] = desk => Over(desk, () => new ConfirmScreen(desk, "Commission a machine on wren-240", "Takes the machine from 'the wiring is in' to an offset and a mesh that are stored and proven. On the simulated printer: nothing real moves.", "begin", 'b', () => { })),
        ["help"] = desk => Over(desk, () => new HelpScreen(desk)),
        ["commands"] = desk => Over(desk, () => new CommandListScreen(desk)),
        ["first-visit"] = desk => desk.Open(new FirstVisitScreen(desk, () => { })),
        ["new-machine"] = desk => desk.Open(new NewMachineScreen(desk, _ => { })),
        ["run-connecting"] = desk => Run(desk, new FakeRun()),
        ["run-step-without-picture"] = desk => Run(desk, Running("preflight")),
        ["run-asked"] = desk => Run(desk, Asked(Prompts.YesNo("preflight.bed-clean", "Are nozzle and bed clean?", "A crumb of plastic is higher than what is measured."), "yes")),
        ["run-hands-clear"] = desk => Run(desk, Asked(Prompts.HandsClear("home-xy.hands-clear", "X and Y are homed now: the axes move to their ends. Paper out, hands clear?"), null)),
        ["run-number"] = desk => Run(desk, Asked(new Prompt("probe-offset.distance-x", PromptKind.Number, "How far is the probe to the left of the nozzle?", "The ruler's figure bounds the search.", [], "mm", 0, 100), null)),
        ["run-paper"] = desk => Run(desk, Asked(Paper, "drags", "step-down")),
        ["run-series"] = desk => Run(desk, Series(9)),
        ["run-held"] = desk => Run(desk, Held()),
        ["run-resumed"] = desk => Run(desk, Resumed()),
        ["run-finished"] = desk => Run(desk, Finished(new RunOutcome.Completed("All steps were done; the machine is parked, heaters off.", Fit))),
        ["run-not-fit"] = desk => Run(desk, Finished(new RunOutcome.Completed("Repeatability did not come out fit, so nothing was written or stored; the machine is parked, heaters off.", new StepVerdict(VerdictWord.NotFit, 0.99, "Sigma is 0.021 mm, bad is 0.010 mm.")))),
        ["run-stopped"] = desk => Run(desk, Finished(new RunOutcome.Stopped("The operator asked to stop. The machine was lifted and parked; resume the run to go on.", new StepVerdict(VerdictWord.Undecided, 0, "The run was not finished.")))),
        ["run-failed"] = desk => Run(desk, Finished(new RunOutcome.Faulted("The controller is silent.", new StepVerdict(VerdictWord.Undecided, 0, "The run was not finished."), "Switch off at the mains now: the controller did not confirm that the heaters are off."))),
        ["run-could-not-begin"] = desk => Run(desk, new FakeRun { IsUnderWay = false, Failure = new Failure("The port /dev/ttyUSB0 is in use by process 4711. Nothing has moved. End that program, then begin again.", ExitCodes.BadInput) }),
        ["messages"] = desk => desk.Open(new MessagesScreen(Series(9))),
        ["wire-empty"] = desk => desk.Open(new WireScreen(desk, () => null)),
        ["results-empty"] = desk => desk.Open(new ResultsScreen(desk, Results() with { Findings = [] }, new NoResults())),
        ["results-no-map"] = desk => Page(desk, '2'),
        ["results-map"] = desk => Page(desk, '2', Results() with { Map = (MapState)PictureSamples.All["map-finished"] }),
        ["results-gap"] = desk => Page(desk, '3', Results() with { Map = (MapState)PictureSamples.All["map-finished"], Gap = (GapState)PictureSamples.All["gap"] }),
        ["results-steps"] = desk => Page(desk, '4'),
        ["results-settings"] = desk => Page(desk, '5'),
        ["compare"] = desk => desk.Open(new CompareScreen((CompareState)PictureSamples.All["compare"], () => { })),
        ["save-report"] = desk => Over(desk, () => new SaveScreen(desk, "/home/me/20261125-1402-k3v.html", _ => { })),
        ["results-findings"] = desk => desk.Open(new ResultsScreen(desk, Results(), new NoResults())),
        ["wire"] = desk => desk.Open(new WireScreen(desk, WireSamples.Recorded)),
        ["wire-search"] = desk => WireSamples.Searched(desk),
    }.Concat(StepSamples.All.Select(sample => KeyValuePair.Create<string, Action<Desk>>(sample.Key, desk => Run(desk, sample.Value())))).ToDictionary();

    public static FakeRun Running(string step, bool resumed = false)
    {
        var run = new FakeRun { Machine = FakeRun.Known(), CanAnswerItself = true };
        run.GoTo(step, resumed);
        return run;
    }

    public static FakeRun Series(int readings)
    {
        var run = Running("series");
        run.Tell(new Remarked(TimeSpan.FromSeconds(66), "series", "Touching one place until the probe is judged."), new ProgressMoved(TimeSpan.FromSeconds(68), "series", 0.37, TimeSpan.FromMinutes(14)));
        for (var number = 1; number <= readings; number++)
        {
            run.Read(number, 2.15 + (0.001 * ((number * 7 % 5) - 2)));
        }

        return run;
    }

    public static StartFacts Facts(bool runs)
    {
        var script = FakeRun.Script;
        var at = new DateTimeOffset(2026, 11, 24, 21, 5, 0, TimeZoneInfo.Local.GetUtcOffset(new DateTime(2026, 11, 24)));
        return new StartFacts(
            [new MachineChoice("heron-330", "Heron 330, moving gantry", null, "heron-330.toml, line 3: there is no width."), new MachineChoice("wren-240", "Wren 240, moving bed", FakeRun.Profile, null)],
            [new PortChoice("/dev/serial/by-id/usb-Bench_Controller_0001", "ttyUSB0", "Bench controller  usb-Bench_Controller_0001"), new PortChoice("simulated:good", "simulated printer: good", "A good machine with an untouched Z offset", "good", "wren-240")],
            [new ScriptChoice("commission", script, null), new ScriptChoice("mine", null, "mine.toml, line 4: there is no step servies. Did you mean series?")],
            runs ?
            [
                new RunListing("20261124-2105-abc", "wren-240", "commission", at, RunState.Ended, 412, TimeSpan.FromMinutes(31), new RunOutcome.Completed("Done.", Fit)),
                new RunListing("20261124-1905-abd", "wren-240", "trust-probe", at.AddHours(-2), RunState.Ended, 99, TimeSpan.FromMinutes(7), new RunOutcome.Completed("Done.", Fit with { State = VerdictWord.NotFit })),
                new RunListing("20261124-1805-abe", "wren-240", "grid", at.AddHours(-3), RunState.Interrupted, 220, TimeSpan.FromMinutes(40), null),
            ]
            : [],
            []);
    }

    private static void Start(Desk desk, StartFacts facts)
    {
        var start = new StartScreen(desk, new NoActions(), new Remembered("wren-240"));
        desk.Open(start);
        start.Show(facts);
    }

    private static void Over(Desk desk, Func<Screen> screen)
    {
        Start(desk, Facts(runs: true));
        desk.Open(screen());
    }

    private static void Run(Desk desk, FakeRun run)
    {
        Start(desk, Facts(runs: true));
        desk.Reins = run;
        desk.Open(new RunScreen(desk, run, () => { }));
    }

    private static FakeRun Asked(Prompt prompt, string? hint, string step = "preflight")
    {
        var run = Running(step);
        run.Tell(new PromptAsked(TimeSpan.FromSeconds(70), prompt));
        run.Ask(prompt, hint);
        return run;
    }

    private static FakeRun Held()
    {
        var run = Series(4);
        run.Tell(new Remarked(TimeSpan.FromSeconds(90), "series", "Held: lifted, probe retracted. Resume or stop."));
        run.IsHeld = true;
        return run;
    }

    private static FakeRun Resumed()
    {
        var run = Running("grid", resumed: true);
        run.Tell(new Remarked(TimeSpan.FromSeconds(66), "grid", "Restored: Z homed, a new datum epoch."));
        return run;
    }

    private static void Page(Desk desk, char page, RunResults? results = null)
    {
        desk.Open(new ResultsScreen(desk, results ?? Results(), new NoResults()));
        desk.Press(page);
    }

    private static FakeRun Finished(RunOutcome outcome)
    {
        var run = Series(12);
        run.Tell(new RunEnded(TimeSpan.FromMinutes(12), outcome));
        run.IsUnderWay = false;
        run.Ended = new EndedRun("20261125-1402-k3v", outcome, 0, "/home/me/.local/share/proberunner/reports/20261125-1402-k3v.html", "/home/me/.local/share/proberunner/runs.db");
        return run;
    }

    private static RunResults Results()
    {
        var script = FakeRun.Script;
        var header = new Procedures.Journal.RunHeader(
            "20261125-1402-k3v", "wren-240", "commission", script.Text, string.Empty, string.Empty, "simulated", string.Empty,
            new DateTimeOffset(2026, 11, 25, 14, 2, 0, TimeZoneInfo.Local.GetUtcOffset(new DateTime(2026, 11, 25))), 7, "0.1.0");
        var record = new RunRecord(header, RunState.Ended, [], [], [], [], [], [], new RunOutcome.Completed("All steps were done.", Fit), null);
        ImmutableArray<Finding> findings =
        [
            new("bed.tilt", "The bed is tilted.", 0.12, "left to right", 0.99, "It rises 0.120 mm from left to right over 200 mm.", "Turn the right screws half a turn, counter-clockwise seen from above, and measure again."),
            new("offset.provisional", "The Z offset was taken cold.", 0.04, "", 0.8, "Nozzle 24 °C, bed 23 °C.", "Take it again at printing temperature."),
            new("probe.good", "The probe repeats well.", null, "", 0.96, "Sigma 0.0032 mm from 12 touches.", "Nothing."),
        ];
        return new RunResults(record, FakeRun.Profile, findings, null, null);
    }

    private sealed class NoActions : IStartActions
    {
        public void Begin(MachineChoice machine, PortChoice port, ScriptChoice work)
        {
        }

        public void Resume(RunListing run, PortChoice? port)
        {
        }

        public void OpenResults(RunListing run)
        {
        }

        public void Compare(RunListing run)
        {
        }

        public void NewMachine()
        {
        }

        public void FirstVisit()
        {
        }

        public void LookAgain()
        {
        }
    }

    private sealed class NoResults : IResultActions
    {
        public void OpenReport(RunRecord record)
        {
        }

        public void SaveReport(RunRecord record)
        {
        }

        public void CompareWithEarlier(RunResults results)
        {
        }
    }
}
