using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

/// <summary>
/// A dense capture over a drifting night with power cuts, nobody there, and the truth known. Cut to 16 x 16 places unless
/// <c>PROBERUNNER_CAMPAIGNS=full</c> asks for the whole 40 x 40 x 3.
/// </summary>
public sealed class NightTests
{
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

    private static readonly int Side = Environment.GetEnvironmentVariable("PROBERUNNER_CAMPAIGNS") == "full" ? 40 : 16;

    [Theory]
    [InlineData("good")]
    [InlineData("tilted")]
    [InlineData("warped")]
    [InlineData("leaning-gantry")]
    [InlineData("far-corner")]
    [InlineData("heron-good")]
    public void A_night_with_two_power_cuts_maps_the_bed_within_a_hundredth(string scenario) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, scenario, change: OfEightHours);
        bench.Person.IsPresent = false;
        RunScript script = Grid(Side, touches: 3);
        foreach (double part in new[] { 0.25, 0.7 })
        {
            bench.Journal.CutAfterRow = (int)(part * 3 * Side * Side);
            await bench.RunAsync(script);
            bench.Journal.CutAfterRow = 0;
            await bench.ComeBackAsync();
        }

        RunOutcome outcome = await bench.RunAsync(script);

        Assert.True(outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, outcome.Why + outcome.Verdict.Reason);
        CaptureConclusion capture = bench.Conclusion<CaptureConclusion>();
        Assert.Equal(3, capture.Details!.Datums.Length);
        Assert.InRange(capture.Details.Duration.TotalHours, 7, 11);
        Assert.InRange(RmsError(capture, bench.Host), 0, 0.01);
        Assert.Empty(bench.Host.Truth.Scratches);
        Assert.Empty(bench.Host.Truth.IllegalMoves);
    });

    [Fact]
    public void A_loose_probe_is_told_from_the_capture_alone() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "loose-probe");
        bench.Person.IsPresent = false;

        await bench.RunAsync(Grid(8, touches: 3));

        CaptureConclusion capture = bench.Conclusion<CaptureConclusion>();
        Assert.Equal(VerdictWord.NotFit, capture.Verdict.State);
        Assert.Contains("can't be trusted", capture.Verdict.Reason, StringComparison.Ordinal);
        Assert.Contains(capture.Findings, finding => finding.Id is "grid.scatter" or "grid.touches-disagree");
    });

    [Fact]
    public void The_drift_of_the_night_is_told_within_its_interval() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good", change: machine => OfEightHours(machine) with { Bed = machine.Bed with { DriftMmPerHour = 0.01 } });
        bench.Person.IsPresent = false;

        await bench.RunAsync(Grid(12, touches: 3));

        CaptureDetails details = bench.Conclusion<CaptureConclusion>().Details!;
        double drifted = 0.01 * details.Duration.TotalHours;
        Assert.Equal(drifted, details.Drift[^1].HeightMm, 4 * details.Drift[^1].StandardUncertaintyMm);
        Assert.Contains(bench.Conclusion<CaptureConclusion>().Findings, finding => finding.Id == "grid.drifted");
    });

    [Fact]
    public void A_bed_that_moves_in_the_night_stops_the_run_safely_and_one_burr_does_not() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Printer.Bed = place => place is { X: > 100 and < 112, Y: > 60 and < 72 } ? 0.6 : 0; // a burr that every touch finds
        RunOutcome outcome = await bench.RunAsync(Grid(20, touches: 1));
        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Contains(bench.Conclusion<CaptureConclusion>().Readings, reading => reading.Z > 0.5);

        bench = new TestBench(time);
        int touches = 0;
        bench.Printer.Bed = _ => touches++ > 150 ? 1.2 : 0;
        outcome = await bench.RunAsync(Grid(20, touches: 1));
        Assert.True(outcome is RunOutcome.Faulted, outcome.ToString());
        Assert.Contains("off their neighbours", outcome.Why, StringComparison.Ordinal);
        Assert.Equal((0.0, 0.0), (bench.Printer.NozzleTarget, bench.Printer.BedTarget));
    });

    /// <summary>The same machine with a touch so slow that the capture lasts a night, and a bed that creeps.</summary>
    private static Scenario OfEightHours(Scenario machine) => machine with
    {
        Bed = machine.Bed with { DriftMmPerHour = 0.004 },
        Probe = machine.Probe with { TouchFeed = machine.Probe.TouchFeed * 2.1 * Side * Side / (40 * 40) / 12 },
    };

    private static RunScript Grid(int side, int touches) => RunScript.Parse(
        FormattableString.Invariant($"{Before}[[step]]\ndo = \"grid\"\ncolumns = {side}\nrows = {side}\ntouches = {touches}\nreference_every = 20\n"), "night");

    /// <summary>Root mean square, over the map's lattice off the clips, of map less truth, both relative to the homing place.</summary>
    private static double RmsError(CaptureConclusion capture, SimulatedPrinter.Hosting.SimulatedPrinterHost host)
    {
        (Truth truth, Scenario machine) = (host.Truth, host.Scenario);
        double home = truth.ReadingAt(machine.Travel.HomingX, machine.Travel.HomingY);
        SurfaceMap map = capture.Map;
        var errors = new List<double>();
        for (int node = 0; node < map.Heights.Length; node++)
        {
            double x = map.Area.MinX + ((map.Area.MaxX - map.Area.MinX) * (node % map.Columns) / (map.Columns - 1));
            double y = map.Area.MinY + ((map.Area.MaxY - map.Area.MinY) * (node / map.Columns) / (map.Rows - 1));
            if (!machine.Bed.Clips.Any(clip => clip.Covers(x, y)))
            {
                errors.Add(map.Heights[node] - (truth.ReadingAt(x, y) - home));
            }
        }

        return Math.Sqrt(errors.Average(error => error * error));
    }
}
