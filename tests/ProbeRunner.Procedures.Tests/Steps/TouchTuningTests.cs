using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class TouchTuningTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void The_feed_chosen_is_truly_as_good_as_the_slow_one_and_the_time_saved_is_the_machines_own(ulong seed) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "hasty-touch", seed);

        RunOutcome outcome = await bench.RunAsync(Script());

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        TouchTuningConclusion tuned = bench.Conclusion<TouchTuningConclusion>();
        TriedManner slow = tuned.Manners[0];
        TriedManner chosen = tuned.Manners.Last(manner => manner.FeedMmPerMin == tuned.FeedMmPerMin && manner.ExtraLiftMm == tuned.ExtraLiftMm);

        // By the scenario's law the scatters at 60, 120, 180, 240, 300 mm/min are as 1, 1.1, 1.5, 2.2, 3.3; the ratio asked for is 1.75.
        Assert.True(tuned.FeedMmPerMin <= 180, tuned.Verdict.Reason);
        Assert.DoesNotContain(tuned.Manners, manner => manner is { FeedMmPerMin: >= 240, IsEquivalent: true });
        Assert.Equal((slow.SecondsPerTouch - chosen.SecondsPerTouch) * 500, tuned.Saved.TotalSeconds, 30.0); // the reference's time is that of both sets of rounds together
        Assert.True(tuned.Manners.Sum(manner => manner.Touches) <= 300 + 2);
    });

    [Fact]
    public void A_probe_that_does_not_mind_haste_may_touch_as_fast_as_the_machine_does() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good", 3);

        await bench.RunAsync(Script());

        TouchTuningConclusion tuned = bench.Conclusion<TouchTuningConclusion>();
        Assert.Equal((300, 0), (tuned.FeedMmPerMin, tuned.ExtraLiftMm));
        Assert.Equal(VerdictWord.Fit, tuned.Verdict.State);
        Assert.True(tuned.Saved > TimeSpan.FromMinutes(30), tuned.Verdict.Reason);
        Assert.Contains("touch_feed_mm_per_min = 300", tuned.Findings[0].Next, StringComparison.Ordinal);
    });

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void The_limit_of_Z_is_as_found_at_the_end_whether_the_step_ends_or_is_stopped(bool stopped) => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        await bench.RunAsync(Script(), engine => bench.Printer.Before = (verb, call) =>
        {
            if (stopped && verb == "touch" && call == 30)
            {
                engine.Control.Stop();
            }

            return Task.CompletedTask;
        });

        Assert.Contains("limit-z-feed", bench.Printer.Log);
        Assert.Equal(600, bench.Printer.HighestZFeed);
    });

    [Fact]
    public void After_a_power_cut_the_step_goes_on_and_leaves_the_limit_as_the_run_first_found_it() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Printer.Before = (verb, call) => verb == "touch" && call == 40 ? throw new InvalidOperationException("power cut") : Task.CompletedTask;
        await bench.RunAsync(Script());
        bench.Printer.Before = null;
        bench.Printer.HighestZFeed = 60;
        bench.Printer.PowerCut();

        RunOutcome outcome = await bench.RunAsync(Script());

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Equal(600, bench.Printer.HighestZFeed);
    });

    [Fact]
    public void A_controller_that_does_not_say_its_limit_has_only_its_lift_tuned() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Printer.HighestZFeed = null;

        await bench.RunAsync(Script());

        TouchTuningConclusion tuned = bench.Conclusion<TouchTuningConclusion>();
        Assert.Equal((0, 0), (tuned.FeedMmPerMin, tuned.ExtraLiftMm));
        Assert.Contains(tuned.Findings, finding => finding.Id == "touch-tuning.feed-is-fixed");
        Assert.DoesNotContain("limit-z-feed", bench.Printer.Log);
    });

    [Fact]
    public void A_grid_touches_at_the_feed_and_from_the_lift_that_were_found() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");

        await bench.RunAsync(TestBench.Steps("first-lift", "home", "do = \"grid\"\ncolumns = 3\nrows = 3\ntouch_feed_mm_per_min = 120\nextra_lift_mm = 2"));

        Assert.Equal(2, bench.Journal.Entries.Count(entry => entry.Kind == EntryKind.Fact && entry.Request.Contains("limit-z-feed", StringComparison.Ordinal)));
        Assert.NotEmpty(bench.Conclusion<CaptureConclusion>().Readings);
        Assert.Equal(bench.Host.Scenario.Travel.MaxFeedZ * 60, (await bench.Printer.ReadHighestZFeedAsync(default))!.Value, 0.01);
    });

    [Fact]
    public void It_asks_for_nothing_but_clear_hands()
    {
        VirtualTime.Run(async time =>
        {
            var bench = new TestBench(time);
            await bench.RunAsync(Script());
            Assert.Equal([PromptIds.FirstLiftHandsClear, PromptIds.HomeHandsClear, PromptIds.TouchTuningHandsClear], bench.Person.Asked.Where(id => id.EndsWith("hands-clear", StringComparison.Ordinal)));
        });
    }

    private static RunScript Script(string more = "") => TestBench.Steps("first-lift", "home", $"do = \"touch-tuning\"\n{more}");
}
