using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Campaigns;

/// <summary>What came of a night's capture, nobody there, with the truth known.</summary>
/// <param name="Outcome">How the run ended.</param>
/// <param name="Capture">What it concluded.</param>
/// <param name="RmsErrorMm">Of the map, over its lattice off the clips, both relative to the homing place.</param>
/// <param name="Held">Part of the lattice, 0 to 1, at which the truth lies in the map's 95 % interval, both relative to the homing place.</param>
/// <param name="Harm">Scratches and illegal moves.</param>
internal sealed record NightTrial(RunOutcome Outcome, CaptureConclusion Capture, double RmsErrorMm, double Held, int Harm)
{
    private const double SidesOf95 = 1.96;

    private const string Before = """
        title = "night"
        [[step]]
        do = "preflight"
        questions = false
        [[step]]
        do = "first-lift"
        confirm = false
        [[step]]
        do = "home"

        """;

    /// <summary>Captures a grid over about eight hours while the bed creeps by 0.004 mm an hour.</summary>
    /// <param name="scenario">The machine.</param>
    /// <param name="side">Places along each side.</param>
    /// <param name="touches">Of each place.</param>
    /// <param name="cuts">At which parts of the capture the power is cut.</param>
    /// <param name="driftMmPerHour">How fast the bed creeps.</param>
    public static NightTrial Of(Scenario scenario, int side, int touches, IReadOnlyList<double> cuts, double driftMmPerHour = 0.004) => VirtualTime.Run(async time =>
    {
        await using CampaignMachine machine = await CampaignMachine.StartAsync(time, OfEightHours(scenario, side, driftMmPerHour));
        var journal = new PlainJournal(scenario.Seed);
        foreach (double part in cuts)
        {
            journal.CutAfterRow = (int)(part * touches * side * side);
            await RunAsync(machine, journal, side, touches, time);
            await machine.ComeBackAsync(time);
        }

        journal.CutAfterRow = 0;
        RunOutcome outcome = await RunAsync(machine, journal, side, touches, time);
        CaptureConclusion capture = journal.Conclusion<CaptureConclusion>() ?? throw new InvalidOperationException(outcome.Why);
        Truth truth = machine.Host.Truth;
        (double rms, double held) = Errors(capture, machine.Host);
        return new NightTrial(outcome, capture, rms, held, truth.Scratches.Count + truth.IllegalMoves.Count);
    });

    private static Task<RunOutcome> RunAsync(CampaignMachine machine, PlainJournal journal, int side, int touches, TimeProvider time)
    {
        RunScript script = RunScript.Parse(
            FormattableString.Invariant($"{Before}[[step]]\ndo = \"grid\"\ncolumns = {side}\nrows = {side}\ntouches = {touches}\nreference_every = 20\n"), "night");
        return new RunEngine(machine.Printer, new Absent(), journal, script, time, new RunOptions("0.1", Simulated: true)).RunAsync();
    }

    /// <summary>
    /// The same machine with a touch so slow that the capture lasts a night, and a bed that creeps. Where the gantry's ends have drives of their own they
    /// stay where they are when the power is cut: a gantry that has tilted is another machine afterwards, and no map of one machine is true of both.
    /// </summary>
    private static Scenario OfEightHours(Scenario machine, int side, double driftMmPerHour) => machine with
    {
        Travel = machine.Travel with { GantryReleaseSdMm = 0 },
        Bed = machine.Bed with { DriftMmPerHour = driftMmPerHour },
        Probe = machine.Probe with { TouchFeed = machine.Probe.TouchFeed * 0.175 * side * side / (40 * 40) },
    };

    private static (double Rms, double Held) Errors(CaptureConclusion capture, SimulatedPrinterHost host)
    {
        (Truth truth, Scenario machine) = (host.Truth, host.Scenario);
        double home = truth.ReadingAt(machine.Travel.HomingX, machine.Travel.HomingY);
        SurfaceMap map = capture.Map;
        var errors = new List<double>();
        int held = 0;
        for (int node = 0; node < map.Heights.Length; node++)
        {
            double x = map.Area.MinX + ((map.Area.MaxX - map.Area.MinX) * (node % map.Columns) / (map.Columns - 1));
            double y = map.Area.MinY + ((map.Area.MaxY - map.Area.MinY) * (node / map.Columns) / (map.Rows - 1));
            if (!machine.Bed.Clips.Any(clip => clip.Covers(x, y)))
            {
                double error = map.Heights[node] - (truth.ReadingAt(x, y) - home);
                errors.Add(error);
                held += Math.Abs(error) <= SidesOf95 * map.Uncertainties[node] ? 1 : 0;
            }
        }

        return (Math.Sqrt(errors.Average(error => error * error)), (double)held / errors.Count);
    }

    private sealed class Absent : IOperator
    {
        public bool IsPresent => false;

        public Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel) => Task.FromResult(new Answer(Answer.Continue));
    }
}
