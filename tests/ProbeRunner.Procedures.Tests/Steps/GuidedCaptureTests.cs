using ProbeRunner.Machine.Geometry;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

/// <summary>A capture that chooses its places, on a bed whose shape is known.</summary>
public sealed class GuidedCaptureTests
{
    [Fact]
    public void It_meets_its_target_with_far_fewer_touches_than_a_grid() => VirtualTime.Run(async time =>
    {
        TestBench bench = BenchWith(time, Bent);

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps("preflight", "first-lift", "home", "guided-capture"));

        Assert.True(outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, outcome.Why + outcome.Verdict.Reason);
        CaptureConclusion capture = bench.Conclusion<CaptureConclusion>();
        Assert.True(capture.Details!.Goal!.Met);
        Assert.InRange(capture.Details.Touches, 9, 45); // a plain grid takes 81 (metrology notes)
        Assert.InRange(RmsError(capture, Bent), 0, 0.02);
    });

    [Fact]
    public void It_says_as_it_goes_how_good_the_map_is_and_what_could_hide() => VirtualTime.Run(async time =>
    {
        TestBench bench = BenchWith(time, Bent);

        await bench.RunAsync(TestBench.Steps("preflight", "first-lift", "home", "guided-capture"));

        List<string> remarks = [.. bench.Events.OfType<Remarked>().Where(remark => remark.Step == "guided-capture").Select(remark => remark.Text)];
        Assert.Contains(remarks, text => text.Contains("rms (wanted 0.020)", StringComparison.Ordinal));
        Assert.Contains(remarks, text => text.Contains("could still hide", StringComparison.Ordinal));
        Assert.NotNull(bench.Conclusion<CaptureConclusion>().Details!.Goal!.MissedBumpMm);
    });

    [Fact]
    public void When_the_touches_run_out_it_says_that_the_target_was_not_met() => VirtualTime.Run(async time =>
    {
        TestBench bench = BenchWith(time, Bent);

        await bench.RunAsync(TestBench.Steps("preflight", "first-lift", "home", "do = \"guided-capture\"\ntarget_rms_mm = 0.005\nmost_touches = 12"));

        CaptureConclusion capture = bench.Conclusion<CaptureConclusion>();
        Assert.Equal(VerdictWord.Undecided, capture.Verdict.State);
        Assert.False(capture.Details!.Goal!.Met);
        Assert.InRange(capture.Details.Touches, 12, 15);
    });

    [Fact]
    public void When_the_minutes_run_out_it_stops_too() => VirtualTime.Run(async time =>
    {
        TestBench bench = BenchWith(time, Bent);

        await bench.RunAsync(TestBench.Steps("preflight", "first-lift", "home", "do = \"guided-capture\"\ntarget_rms_mm = 0.005\nmost_minutes = 1"));

        Assert.InRange(bench.Conclusion<CaptureConclusion>().Details!.Duration.TotalMinutes, 0.5, 2);
    });

    [Theory]
    [InlineData(5)]
    [InlineData(9)]
    [InlineData(11)]
    public void A_power_cut_costs_no_touch_and_changes_no_place(int touchesBefore) => VirtualTime.Run(async time =>
    {
        TestBench whole = BenchWith(time, Bent);
        await whole.RunAsync(TestBench.Steps("preflight", "first-lift", "home", "guided-capture"));
        TestBench cut = BenchWith(time, Bent);
        int row = whole.Journal.Entries.FindIndex(entry => entry.Request.StartsWith("{\"kind\":\"touch\"", StringComparison.Ordinal)) + touchesBefore;
        cut.Journal.CutAfterRow = row;
        await cut.RunAsync(TestBench.Steps("preflight", "first-lift", "home", "guided-capture"));
        cut.Journal.CutAfterRow = 0;
        cut.Printer.PowerCut();

        RunOutcome outcome = await cut.RunAsync(TestBench.Steps("preflight", "first-lift", "home", "guided-capture"));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        CaptureConclusion capture = cut.Conclusion<CaptureConclusion>();
        Assert.Equal(2, capture.Details!.Datums.Length);
        Assert.InRange(RmsError(capture, Bent), 0, 0.02);
        Assert.Equal(
            whole.CountingTouches().Take(touchesBefore).Select(entry => entry.Request), cut.CountingTouches().Take(touchesBefore).Select(entry => entry.Request));
    });

    private static TestBench BenchWith(TimeProvider time, Func<BedPoint, double> bed)
    {
        var bench = new TestBench(time);
        bench.Printer.Bed = bed;
        bench.Printer.TouchNoise = touch => 0.004 * new SeededChance(7, $"touch {touch}").Between(-1.7, 1.7);
        return bench;
    }

    private static double Bent(BedPoint place)
    {
        double u = (place.X / 120) - 1, v = (place.Y / 120) - 1;
        return (0.2 * u) - (0.1 * v) + (0.25 * ((u * u) - (1.0 / 3))) + (0.1 * u * v);
    }

    private static double RmsError(CaptureConclusion capture, Func<BedPoint, double> bed)
    {
        SurfaceMap map = capture.Map;
        double home = bed(new BedPoint(120, 120));
        return Math.Sqrt(Enumerable.Range(0, map.Heights.Length).Average(node =>
        {
            var place = new BedPoint(
                map.Area.MinX + ((map.Area.MaxX - map.Area.MinX) * (node % map.Columns) / (map.Columns - 1)),
                map.Area.MinY + ((map.Area.MaxY - map.Area.MinY) * (node / map.Columns) / (map.Rows - 1)));
            return Math.Pow(map.Heights[node] - (bed(place) - home), 2);
        }));
    }
}
