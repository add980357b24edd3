using System.Collections.Immutable;
using ProbeRunner.Console.Screens.Running;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Metrology.Thresholds;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Tests.Screens.Whole;

/// <summary>The run screen at every step that has a picture: under way, asked, held, failed, taken up again, done; each from a run's events.</summary>
internal static class StepSamples
{
    private static readonly Prompt Paper = Prompts.Choose(
        "step-down.paper", "How does the paper feel now?", "The height at which paper begins to drag gives the Z offset.", ("free", "moves freely"), ("drags", "drags, still moves"), ("pinched", "does not move"));

    private static readonly ImmutableArray<BedPoint> Patches = [.. Enumerable.Range(0, 9).Select(index => new BedPoint(40 + (75 * (index % 3)), 40 + (75 * (index / 3))))];

    /// <summary>By name.</summary>
    public static IReadOnlyDictionary<string, Func<FakeRun>> All { get; } = new Dictionary<string, Func<FakeRun>>
    {
        ["screws-asked"] = ScrewsAsked,
        ["screws-held"] = () => Held(ScrewsMeasured(), "screws"),
        ["screws-failed"] = () => Failed(ScrewsMeasured()),
        ["first-layer-laying"] = () => Laying(4),
        ["first-layer-asked"] = FirstLayerAsked,
        ["first-layer-held"] = () => Held(Laying(4), "first-layer"),
        ["first-layer-halted"] = () => Ended(Laying(4), new RunOutcome.Halted("HALT was asked for. The controller was told to cut motors and heaters; the nozzle may have sunk. If anything still moves or heats, switch off at the mains.", NotFinished)),
        ["warm-up-running"] = () => Warming(12),
        ["warm-up-held"] = () => Held(Warming(12), "warm-up"),
        ["warm-up-resumed"] = () => Begun("warm-up", resumed: true),
        ["step-down-soaking"] = Soaking,
        ["step-down-asked"] = () => Feeling(isAsked: true),
        ["step-down-held"] = () => Held(Feeling(isAsked: false), "step-down"),
        ["grid-growing"] = () => Mapping(resumed: false),
        ["grid-held"] = () => Held(Mapping(resumed: false), "grid"),
        ["grid-resumed"] = () => Mapping(resumed: true),
        ["grid-failed"] = () => Failed(Mapping(resumed: false)),
        ["series-judging"] = Judging,
    };

    private static StepVerdict NotFinished => new(VerdictWord.Undecided, 0, "The run was not finished.");

    private static FakeRun Begun(string step, bool resumed = false)
    {
        var run = new FakeRun { Machine = FakeRun.Known(), CanAnswerItself = true, Shown = FakeRun.Of("preflight", "first-lift", "home", "screws", "warm-up", "series", "step-down", "grid", "mesh", "first-layer", "conclusions") };
        run.GoTo(step, resumed);
        run.Tell(new ProgressMoved(At(1), step, 0.62, TimeSpan.FromMinutes(11)));
        return run;
    }

    private static FakeRun ScrewsMeasured()
    {
        var run = Begun("screws");
        run.Tell(
            new ScrewsMeasured(At(40), "screws", new ScrewRound("first", [.. FakeRun.Profile.Screws.Select((screw, index) => new ScrewState(screw.Name, screw.Place, 0.18 - (0.1 * index), 0))], 0.02, 0.01), [0.25, 0, -0.2083, -0.125], 0.02),
            new Remarked(At(41), "screws", "Round 1: the corners differ by 0.300 mm."));
        return run;
    }

    private static FakeRun ScrewsAsked()
    {
        var run = ScrewsMeasured();
        Ask(run, Prompts.Choose("screws.turn", "Turn the screw front left a quarter turn clockwise, seen from above: that lowers its corner by 0.175 mm.", "Turning a screw moves that corner of the bed.", ("call-off", "not turned, end this step"), ("turned", "turned as said")) with { About = "front left 0.25" }, "turned");
        return run;
    }

    private static FakeRun Laying(int laid)
    {
        var run = Begun("first-layer");
        run.Machine = Hot(run.Machine!);
        run.Tell(new MachineSeen(At(60), run.Machine.Snapshot), new Remarked(At(61), "first-layer", "9 patches are laid. While lines come out you may say closer or farther: the nozzle moves by 0.02 mm before the next line."));
        run.Tell([.. Patches.Take(laid).Select((place, index) => new PatchLaid(At(70 + (20 * index)), "first-layer", place, 0.10 + (0.03 * index)))]);
        run.Tell(new Nudged(At(150), -0.02, -0.02));
        return run;
    }

    private static FakeRun FirstLayerAsked()
    {
        var run = Laying(9);
        run.Tell([.. Patches.Take(2).SelectMany((place, index) => (RunEvent[])[new PromptAsked(At(300 + index), Patch(index)), new AnswerGiven(At(301 + index), PromptIds.FirstLayerPatch, index == 0 ? "ridges" : "good")])]);
        Ask(run, Patch(2), "good");
        return run;
    }

    private static Prompt Patch(int index) => Prompts.Choose(
        PromptIds.FirstLayerPatch,
        FormattableString.Invariant($"Patch {index + 1} of 9, around x {Patches[index].X:0}, y {Patches[index].Y:0}: how does it look? Look along it towards a light; don't touch, it is hot."),
        "Gaps: lines lie side by side without joining.",
        ("skip", "can't tell, or nothing there"), ("gaps", "gaps between the lines"), ("good", "closed and smooth"), ("ridges", "ridges, or scraped through")) with
    { About = FormattableString.Invariant($"{Patches[index].X:0.0} {Patches[index].Y:0.0}") };

    private static FakeRun Warming(int touches)
    {
        var run = Begun("warm-up");
        for (var touch = 0; touch < touches; touch++)
        {
            var heated = 1 - Math.Exp(-touch * 45 / 120.0);
            run.Machine = FakeRun.Known() with { Snapshot = FakeRun.Known().Snapshot with { Temperatures = new Temperatures(24 + (116 * heated), 140, 23 + (37 * heated), 60, DateTimeOffset.UnixEpoch) } };
            run.Tell(
                new MachineSeen(At(45 * touch), run.Machine.Snapshot),
                new ReadingTaken(At((45 * touch) + 5), "warm-up", touch + 1, null, 1, new Reading(new BedPoint(120, 120), 2.19 + (0.07 * (1 - Math.Exp(-touch * 45 / 420.0))), DateTimeOffset.UnixEpoch, 1, false)));
        }

        return run;
    }

    private static FakeRun Soaking()
    {
        var run = Begun("step-down");
        run.Machine = Hot(run.Machine!);
        run.Tell(
            new PromptAsked(At(2), Prompts.Acknowledge("step-down.cautions", "Nozzle and bed get hot.", "Burns.")),
            new AnswerGiven(At(3), "step-down.cautions", "continue"),
            new Remarked(At(4), "step-down", "The bed soaks for 5 minutes: a plate goes on bending after its sensor is warm."));
        return run;
    }

    private static FakeRun Feeling(bool isAsked)
    {
        var run = Begun("step-down");
        double[] heights = [-1.80, -1.90, -2.00, -2.10, -2.06, -2.03, -2.05, -2.07];
        ImmutableArray<FeltHeight> answers = [.. heights.Select(height => new FeltHeight(1, height, height <= -2.06 ? "drags" : "free"))];
        run.Tell(new PaperFelt(At(30), "step-down", 1, answers[..5], new ThresholdEstimate(-2.04, 0.02, -2.08, -2.0, 0.018), 0.01, 40));
        run.Tell(new PaperFelt(At(60), "step-down", 1, answers, new ThresholdEstimate(-2.052, 0.008, -2.068, -2.036, 0.018), 0.01, 40));
        if (isAsked)
        {
            Ask(run, Paper, "drags");
        }

        return run;
    }

    private static FakeRun Mapping(bool resumed)
    {
        var run = Begun("grid", resumed);
        if (resumed)
        {
            run.Tell(new Remarked(At(2), "grid", "Restored: Z homed, a new datum epoch."));
        }

        for (var index = 0; index < 24; index++)
        {
            var (row, column) = (index / 6, index % 6);
            var place = new BedPoint(12 + (36 * (row % 2 == 0 ? column : 5 - column)), 12 + (40 * row));
            var reading = new Reading(place, 2.2 + (0.0008 * (place.X - 100)) - (0.000004 * (place.Y - 120) * (place.Y - 120)), DateTimeOffset.UnixEpoch, 1, false);
            run.Tell(resumed && index < 14 ? new ReadingRecalled(At(3), "grid", reading) : new ReadingTaken(At(4 + (8 * index)), "grid", index + 1, 36, 1, reading));
        }

        return run;
    }

    private static FakeRun Judging()
    {
        var run = Begun("series");
        for (var number = 1; number <= 9; number++)
        {
            run.Read(number, 2.15 + (0.002 * ((number * 7 % 5) - 2)));
        }

        run.Tell(
            new SeriesJudged(At(80), "series", new SeriesSoFar(new StepVerdict(VerdictWord.Undecided, 0.81, ""), 6, 0.0030, 0.0020, 0.0058, 0.005, 0.010)),
            new ProgressMoved(At(80), "series", 0.44, TimeSpan.FromMinutes(9)));
        return run;
    }

    private static FakeRun Held(FakeRun run, string step)
    {
        run.Question = null;
        run.Tell(new Remarked(At(400), step, "Held: lifted, probe retracted. Resume or stop."));
        run.IsHeld = true;
        return run;
    }

    private static FakeRun Failed(FakeRun run) => Ended(run, new RunOutcome.Faulted("The controller is silent: nothing came for 10 s after the last command.", NotFinished, string.Empty));

    private static FakeRun Ended(FakeRun run, RunOutcome outcome)
    {
        run.Tell(new RunEnded(TimeSpan.FromMinutes(12), outcome));
        run.IsUnderWay = false;
        run.Ended = new EndedRun("20261125-1402-k3v", outcome, 0, "/home/me/.local/share/proberunner/reports/20261125-1402-k3v.html", "/home/me/.local/share/proberunner/runs.db");
        return run;
    }

    private static void Ask(FakeRun run, Prompt prompt, string hint)
    {
        run.Tell(new PromptAsked(At(500), prompt));
        run.Ask(prompt, hint);
    }

    private static MachineView Hot(MachineView machine) =>
        machine with { Snapshot = machine.Snapshot with { MeshCorrectionOn = true, Position = new NozzlePosition(118.4, 44, 0.19), Temperatures = new Temperatures(209.6, 210, 60.2, 60, DateTimeOffset.UnixEpoch) } };

    /// <summary>Seconds after the step began.</summary>
    private static TimeSpan At(double seconds) => TimeSpan.FromSeconds(65 + seconds);
}
