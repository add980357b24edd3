using ProbeRunner.Campaigns;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

/// <summary>A dense capture over a drifting night with power cuts, cut to 16 x 16 places; the whole 40 x 40 x 3 is the campaign <c>night</c>.</summary>
public sealed class NightTests
{
    private const int Side = 16;

    [Theory]
    [InlineData("good")]
    [InlineData("tilted")]
    [InlineData("warped")]
    [InlineData("leaning-gantry")]
    [InlineData("far-corner")]
    [InlineData("heron-good")]
    public void A_night_with_two_power_cuts_maps_the_bed_within_a_hundredth(string scenario)
    {
        NightTrial night = NightTrial.Of(ScenarioFile.Load(scenario), Side, touches: 3, cuts: [0.25, 0.7]);

        Assert.True(night.Outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, night.Outcome.Why + night.Outcome.Verdict.Reason);
        Assert.Equal(3, night.Capture.Details!.Datums.Length);
        Assert.InRange(night.Capture.Details.Duration.TotalHours, 7, 11);
        Assert.InRange(night.RmsErrorMm, 0, 0.01);
        Assert.InRange(night.Held, 0.9, 1);
        Assert.Equal(0, night.Harm);
    }

    [Fact]
    public void A_loose_probe_is_told_from_the_capture_alone()
    {
        CaptureConclusion capture = NightTrial.Of(ScenarioFile.Load("loose-probe"), side: 8, touches: 3, cuts: []).Capture;

        Assert.Equal(VerdictWord.NotFit, capture.Verdict.State);
        Assert.Contains("can't be trusted", capture.Verdict.Reason, StringComparison.Ordinal);
        Assert.Contains(capture.Findings, finding => finding.Id is "grid.scatter" or "grid.touches-disagree");
    }

    [Fact]
    public void The_drift_of_the_night_is_told_within_its_interval()
    {
        const double MmPerHour = 0.01;

        CaptureConclusion capture = NightTrial.Of(ScenarioFile.Load("good"), side: 12, touches: 3, cuts: [], MmPerHour).Capture;

        DriftPoint end = capture.Details!.Drift[^1];
        Assert.Equal(MmPerHour * capture.Details.Duration.TotalHours, end.HeightMm, 4 * end.StandardUncertaintyMm);
        Assert.Contains(capture.Findings, finding => finding.Id == "grid.drifted");
    }

    [Fact]
    public void A_bed_that_moves_in_the_night_stops_the_run_safely_and_one_burr_does_not() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Printer.Bed = place => place is { X: > 100 and < 112, Y: > 60 and < 72 } ? 0.6 : 0; // a burr that every touch finds
        RunOutcome outcome = await bench.RunAsync(TestBench.Steps("preflight", "first-lift", "home", "do = \"grid\"\ncolumns = 20\nrows = 20\ntouches = 1"));
        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Contains(bench.Conclusion<CaptureConclusion>().Readings, reading => reading.Z > 0.5);

        bench = new TestBench(time);
        int looks = 0;
        bench.Printer.Bed = _ => looks++ > 150 ? 1.2 : 0;
        outcome = await bench.RunAsync(TestBench.Steps("preflight", "first-lift", "home", "do = \"grid\"\ncolumns = 20\nrows = 20\ntouches = 1"));
        Assert.True(outcome is RunOutcome.Faulted, outcome.ToString());
        Assert.Contains("off their neighbours", outcome.Why, StringComparison.Ordinal);
        Assert.Equal((0.0, 0.0), (bench.Printer.NozzleTarget, bench.Printer.BedTarget));
    });
}
