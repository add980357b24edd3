using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Steps.TouchReport;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps.TouchReport;

public sealed class TouchReportTests
{
    private static readonly string[] Steps = ["preflight", "first-lift", "home-xy", "self-check", "first-home-z", "touch-report-check"];
    private static readonly ProbeOffset Offset = new(-38, -9, -1.5);

    [Theory]
    [InlineData("good")]
    [InlineData("heron-good")]
    [InlineData("tilted")]
    public void Reports_that_mean_what_the_dialect_says_are_fit(string scenario) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, scenario);

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps(Steps));

        Assert.True(outcome.Verdict.State == VerdictWord.Fit, outcome.Why + outcome.Verdict.Reason);
        Assert.Empty(bench.Conclusion<TouchReportConclusion>().WithOtherOffset);
    });

    [Theory]
    [InlineData("nozzle", true, "touch-report-check.other-place")]
    [InlineData("probe", false, "touch-report-check.height-means-other")]
    public void A_controller_that_reports_something_else_is_found(string place, bool offsetIncluded, string expected) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good", change: With(place == "nozzle", offsetIncluded, -1.5));

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps(Steps));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Equal(expected, Assert.Single(bench.Conclusion<TouchReportConclusion>().Findings).Id);
        Assert.Equal(VerdictWord.NotFit, outcome.Verdict.State);
    });

    [Theory]
    [InlineData(true, "")]
    [InlineData(false, "touch-report-check.height-means-other")]
    public void With_no_offset_to_tell_by_it_is_changed_for_one_touch_and_put_back(bool offsetIncluded, string expected) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good", change: With(false, offsetIncluded, 0));

        await bench.RunAsync(TestBench.Steps(Steps));

        TouchReportConclusion check = bench.Conclusion<TouchReportConclusion>();
        Assert.Equal(expected, string.Join(' ', check.Findings.Select(finding => finding.Id)));
        Assert.Single(check.WithOtherOffset);
        Assert.Equal(0, bench.Host.Truth.LiveOffsetZ);
        Assert.Contains(PromptIds.TouchReportHomeHandsClear, bench.Person.Asked);
        Assert.Empty(bench.Host.Truth.Scratches);
    });

    [Fact]
    public void A_nozzle_that_is_elsewhere_and_heights_that_do_not_follow_are_each_named()
    {
        TouchCheck[] right = [Check(120, 120, 1.5, 6.5), Check(72, 72, 1.4, 6.4), Check(168, 168, 1.6, 6.6)];

        Assert.Empty(TouchReportJudgement.OfPlaces([.. right], Offset));
        Assert.Equal(
            "touch-report-check.position-elsewhere",
            Assert.Single(TouchReportJudgement.OfPlaces([.. right.Select(check => check with { After = check.After with { X = check.After.X + 38 } })], Offset)).Id);
        Assert.Equal(
            "touch-report-check.height-does-not-follow",
            Assert.Single(TouchReportJudgement.OfPlaces([.. right.Select(check => check with { NozzleMm = 3 - check.NozzleMm })], Offset)).Id);
    }

    [Fact]
    public void A_controller_that_always_lifts_to_the_same_height_is_right_too() =>
        Assert.Empty(TouchReportJudgement.OfPlaces([Check(120, 120, 1.5, 10), Check(72, 72, 1.1, 10), Check(168, 168, 1.9, 10)], Offset));

    [Fact]
    public void One_damaged_report_out_of_three_is_not_heeded()
    {
        TouchCheck damaged = Check(72, 72, 9.4, 6.4) with { Reported = new BedPoint(42, 72) };

        Assert.Empty(TouchReportJudgement.OfPlaces([Check(120, 120, 1.5, 6.5), damaged, Check(168, 168, 1.6, 6.6)], Offset));
    }

    private static TouchCheck Check(double x, double y, double nozzleMm, double afterMm) =>
        new(new BedPoint(x, y), new BedPoint(x, y), nozzleMm + Offset.Z, nozzleMm, new NozzlePosition(x - Offset.X, y - Offset.Y, afterMm));

    private static Func<Scenario, Scenario> With(bool nozzlePlace, bool offsetIncluded, double offsetZ) => scenario => scenario with
    {
        Controller = scenario.Controller with { TouchNamesNozzlePlace = nozzlePlace, TouchIncludesOffset = offsetIncluded, StoredOffsetZ = offsetZ },
    };
}
