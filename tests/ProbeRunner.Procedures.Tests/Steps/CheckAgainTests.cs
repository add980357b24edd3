using ProbeRunner.Machine.Settings;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Steps.CheckAgain;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class CheckAgainTests
{
    [Theory]
    [InlineData("good", 1)]
    [InlineData("good", 2)]
    [InlineData("warped", 3)]
    public void A_bed_that_did_not_change_is_called_unchanged(string scenario, ulong seed) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, scenario, seed);
        EarlierCapture earlier = await CaptureAsync(bench);

        CheckAgainConclusion check = await CheckAsync(bench, earlier);

        Assert.True(check.Verdict.State == VerdictWord.Fit, check.Verdict.Reason);
        Assert.Empty(check.Findings);
        Assert.Equal("a-run", check.AgainstRun);
    });

    [Theory]
    [InlineData("back right", 0.3, "back right corner", 1)]
    [InlineData("front left", -0.3, "front left corner", 2)]
    public void A_screw_that_was_turned_is_found_at_its_corner_with_about_its_size(string screw, double turns, string corner, ulong seed) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good", seed);
        EarlierCapture earlier = await CaptureAsync(bench);
        var before = Corners(bench);
        Assert.Equal("ok", await bench.Host.AskAsync(FormattableString.Invariant($"turn screw {screw} {turns}"), default));
        double[] moved = [.. Corners(bench).Zip(before, (now, then) => now - then)];

        CheckAgainConclusion check = await CheckAsync(bench, earlier);

        Assert.True(check.Verdict.State == VerdictWord.NotFit, check.Verdict.Reason);
        Assert.Equal(("check-again.corner-moved", corner), (check.Findings[0].Id, check.Findings[0].Where));
        string[] names = ["front left corner", "front right corner", "back left corner", "back right corner"];
        foreach ((string name, double truth) in names.Zip(moved.Select(each => each - moved.Average())))
        {
            BedChange found = check.Changes.Single(change => change.Name == name);
            Assert.True(Math.Abs(found.ChangeMm - truth) <= 0.03, $"{name}: {found.ChangeMm:0.000}, truly {truth:0.000}");
        }
    });

    [Fact]
    public void An_offset_that_was_changed_meanwhile_is_named() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good", 5);
        EarlierCapture earlier = await CaptureAsync(bench);

        CheckAgainConclusion check = await CheckAsync(bench, earlier with { Offset = new ProbeOffset(-38, -9, -1.9) });

        Finding finding = Assert.Single(check.Findings);
        Assert.Equal("check-again.offset-changed", finding.Id);
        Assert.Equal(0.4, finding.EffectMm!.Value, 0.001);
    });

    [Fact]
    public void A_bed_that_was_hot_then_and_is_cold_now_is_not_blamed() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good", 6);
        EarlierCapture earlier = await CaptureAsync(bench);
        await bench.Host.AskAsync("turn screw back right 0.3", default);

        CheckAgainConclusion check = await CheckAsync(bench, earlier with { BedCelsius = 60 });

        Assert.Equal(VerdictWord.Undecided, check.Verdict.State);
        Assert.Contains(check.Findings, finding => finding.Id == "check-again.other-conditions");
    });

    [Fact]
    public void The_earlier_capture_survives_the_scripts_text_and_a_script_without_one_is_refused()
    {
        var earlier = new EarlierCapture("a-run", [new CaptureReading(1.5, 2, -0.01234, 3.5, 1), new CaptureReading(4, 5, 0.5, 6, 2)], [0.01, 0.012], new ProbeOffset(-38, -9, -2.15), 21.5, 60);
        RunScript script = RunScript.ForStep("check-again", earlier.Parameters());

        RunScript again = RunScript.Parse(script.Text, "check-again");

        Assert.Null(again.Steps[^1].WhyImpossible(TestBench.Profile));
        Assert.NotNull(RunScript.ForStep("check-again").Steps[^1].WhyImpossible(TestBench.Profile));
        Assert.Equal(script.Text, again.Text);
    }

    private static List<double> Corners(SimulatedBench bench)
    {
        // Where the captures end: what the probe reaches of the plate.
        var area = Machine.Reach.ReachableArea.ForProbe(bench.Printer.Profile).Bounds;
        return new[] { (area.MinX, area.MinY), (area.MaxX, area.MinY), (area.MinX, area.MaxY), (area.MaxX, area.MaxY) }
            .Select(corner => bench.Host.Truth.BedHeightAt(corner.Item1, corner.Item2)).ToList();
    }

    private static async Task<EarlierCapture> CaptureAsync(SimulatedBench bench)
    {
        await bench.RunAsync(TestBench.Steps("first-lift", "home", "series", "do = \"grid\"\ncolumns = 7\nrows = 7\ntouches = 1"));
        CaptureConclusion capture = bench.Conclusion<CaptureConclusion>();
        return new EarlierCapture(
            "a-run", EarlierCapture.Taken(capture.Readings), [.. bench.Conclusion<SeriesConclusion>().Readings.Select(reading => reading.Z)], new ProbeOffset(-38, -9, -1.5), 21, 21);
    }

    /// <summary>Another day: a run of its own on the same machine.</summary>
    private static async Task<CheckAgainConclusion> CheckAsync(SimulatedBench bench, EarlierCapture earlier)
    {
        var journal = new MemoryJournal(99);
        RunScript script = RunScript.ForStep("check-again", earlier.Parameters());
        RunOutcome outcome = await new RunEngine(bench.Printer, bench.Person, journal, script, bench.Time, new RunOptions("0.1", Simulated: true)).RunAsync();
        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        return journal.Entries.Where(entry => entry.Kind == Journal.EntryKind.StepEnded)
            .Select(entry => Journal.JournalJson.Read<StepConclusion>(entry.Reply)).OfType<CheckAgainConclusion>().Single();
    }
}
