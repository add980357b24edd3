using System.Threading.Channels;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Console.Screens.Watching;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Console.Tests.Screens.Watching;

public sealed class RunViewTests
{
    private static readonly Lazy<List<RunView>> Commission = new(() =>
    {
        List<RunView> views = [];
        VirtualTime.Run(async time =>
        {
            await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
            views = await WatchAsync(bench, TestBench.Script("commission"));
        });
        return views;
    });

    private static MachineProfile Wren => new ProfileCatalogue([TestBench.Folder]).Machine("wren-240");

    [Fact]
    public void A_whole_commission_ends_with_every_step_done_and_its_picture_drawn_from_what_was_told()
    {
        RunView end = Commission.Value[^1];

        Assert.IsType<RunOutcome.Completed>(end.Outcome);
        Assert.All(end.Steps, step => Assert.Equal(StepState.Done, step.State));
        Assert.All(end.Steps, step => Assert.NotNull(step.Conclusion));
        Assert.Equal(1, end.Fraction);
        Assert.Null(end.Asked);
        Assert.NotEmpty(end.Changes);
        Assert.NotNull(end.Machine?.Position);
        Assert.Contains(end.Log, message => message.Text.StartsWith("Step 1 of", StringComparison.Ordinal));
    }

    [Fact]
    public void A_series_shows_how_many_more_readings_are_needed_until_it_is_certain() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");

        List<RunView> views = await WatchAsync(bench, RunScript.ForStep("series"));

        List<SeriesState> course = [.. views.Select(view => view.Picture).OfType<SeriesState>()];
        Assert.Contains(course, state => state is { SoFar: { StillNeeded: > 0, Verdict.State: VerdictWord.Undecided }, HeightsMm.Length: >= 2 });
        Assert.Equal(VerdictWord.Fit, course[^1].SoFar!.Verdict.State);
        Assert.Equal(0, course[^1].SoFar!.StillNeeded);
        Assert.Equal(bench.Conclusion<SeriesConclusion>().Readings.Select(reading => reading.Z), course[^1].HeightsMm);
    });

    [Fact]
    public void A_paper_test_shows_its_interval_narrow_and_in_the_end_all_its_answers()
    {
        List<StepDownState> course = [.. Commission.Value.Where(view => view.Step?.Step.Name == "step-down").Select(view => view.Picture).OfType<StepDownState>()];
        Assert.Contains(course, state => state.IsAsking);
        Assert.Contains(course, state => state.Take == 2);
        Assert.Contains(course, state => state.Estimates.Length >= 3 && HalfWidth(state.Estimates[^1]) < HalfWidth(state.Estimates[0]) && HalfWidth(state.Estimates[^1]) <= state.WantedHalfWidthMm);
        Assert.Equal<FeltHeight>(Commission.Value[^1].Steps.Select(step => step.Conclusion).OfType<StepDownConclusion>().Single().Answers, course[^1].Answers);
    }

    [Fact]
    public void A_map_grows_reading_by_reading_and_becomes_a_surface() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");

        List<RunView> views = await WatchAsync(bench, TestBench.Script("map-bed"));

        List<MapState> course = [.. views.Where(view => view.Step?.Step.Name == "grid").Select(view => view.Picture).OfType<MapState>()];
        Assert.Equal(Enumerable.Range(0, course[^1].Readings.Count + 1), course.Select(state => state.Readings.Count).Distinct());
        Assert.True(course[^1] is { Heights: not null, Uncertainties: not null });
    });

    [Fact]
    public void Screws_show_which_one_is_to_be_turned_and_in_the_end_that_nothing_is() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "tilted");

        List<RunView> views = await WatchAsync(bench, TestBench.Script("level-screws"));

        List<ScrewsState> course = [.. views.Select(view => view.Picture).OfType<ScrewsState>()];
        Assert.Contains(course, state => state.Screws.Count(screw => screw.IsNow) == 1 && state.Screws.Single(screw => screw.IsNow) is { Turns: not 0, RiseMm: not 0 });
        Assert.All(course[^1].Screws, screw => Assert.Equal(0, screw.Turns));
        Assert.All(course[^1].Screws, screw => Assert.InRange(screw.HeightMm!.Value, -course[^1].ToleranceMm, course[^1].ToleranceMm));
    });

    [Fact]
    public void A_run_that_was_taken_up_again_shows_what_was_done_before() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        RunScript script = TestBench.Script("commission");
        bench.Journal.CutAfterRow = 330;
        await bench.RunAsync(script);
        bench.Journal.CutAfterRow = 0;
        await bench.ComeBackAsync();

        List<RunView> views = await WatchAsync(bench, script);

        Assert.True(views[0].IsResumed);
        RunView first = views.First(view => view.Step?.State == StepState.Running);
        Assert.True(first.Current > 0);
        Assert.All(first.Steps.Take(first.Current), step => Assert.Equal(StepState.Done, step.State));
        Assert.All(views[^1].Steps, step => Assert.Equal(StepState.Done, step.State));
        MapState map = Assert.IsType<MapState>(views[^1].Steps.Single(step => step.Step.Name == "grid").Picture);
        Assert.True(map.Readings.Count >= bench.Conclusion<CaptureConclusion>().Readings.Length, "every touch of every place");
    });

    [Fact]
    public void Whatever_a_closed_gate_leaves_out_is_shown_as_left_out() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "loose-probe");

        List<RunView> views = await WatchAsync(bench, TestBench.Script("commission"));

        Assert.Equal(VerdictWord.NotFit, views[^1].Steps.Single(step => step.Step.Name == "series").Verdict!.State);
        Assert.Equal(StepState.LeftOut, views[^1].Steps.Single(step => step.Step.Name == "store").State);
        Assert.NotEmpty(views[^1].Findings);
    });

    [Theory]
    [InlineData("watch-warm-up", typeof(WarmUpState))]
    [InlineData("check-lean", typeof(LeanState))]
    [InlineData("tune-touch", typeof(TouchTuningState))]
    public void Every_other_measuring_step_ends_with_its_own_picture(string script, Type picture) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");

        List<RunView> views = await WatchAsync(bench, TestBench.Script(script));

        Assert.Contains(views[^1].Steps, step => step.Picture?.GetType() == picture && step.State == StepState.Done);
    });

    [Fact]
    public void A_first_layer_shows_its_patches_as_they_are_laid_nudged_and_judged()
    {
        RunScript script = TestBench.Script("check-first-layer");
        int index = script.Steps.Select((step, number) => (step, number)).First(pair => pair.step.Name == "first-layer").number;
        Prompt look = Prompts.Choose(PromptIds.FirstLayerPatch, "How does it look?", "", ("skip", ""), ("good", "")) with { About = "60.0 40.0" };
        RunView view = RunView.Of(script, Wren)
            .After(new StepStarted(TimeSpan.Zero, "first-layer", "First-layer check", index, script.Steps.Length))
            .After(new PatchLaid(TimeSpan.Zero, "first-layer", new BedPoint(60, 40), 0.17))
            .After(new PatchLaid(TimeSpan.Zero, "first-layer", new BedPoint(180, 40), 0.22))
            .After(new Nudged(TimeSpan.Zero, -0.02, -0.04))
            .After(new PromptAsked(TimeSpan.Zero, look));

        FirstLayerState asked = Assert.IsType<FirstLayerState>(view.Picture);
        FirstLayerState judged = Assert.IsType<FirstLayerState>(view.After(new AnswerGiven(TimeSpan.Zero, look.Id, "good")).Picture);

        Assert.Equal(-0.04, asked.NudgeMm);
        Assert.Equal([true, false], asked.Patches.Select(patch => patch.IsNow));
        Assert.Equal([("good", 0.17, false), ("", 0.22, false)], judged.Patches.Select(patch => (patch.Look, patch.HeightMm!.Value, patch.IsNow)));
    }

    [Fact]
    public void A_step_that_was_cut_off_is_shown_so_and_an_alarm_stands_last_in_the_log()
    {
        RunView view = RunView.Of(TestBench.Script("commission"), Wren)
            .After(new RunStarted(TimeSpan.Zero, "r1", "wren-240", "commission", false))
            .After(new StepStarted(TimeSpan.FromSeconds(1), "preflight", "Preflight", 0, 12))
            .After(new RunEnded(TimeSpan.FromSeconds(5), new RunOutcome.Faulted("The link is gone.", new StepVerdict(VerdictWord.Undecided, 0, ""), "Switch off at the mains.")));

        Assert.Equal(StepState.CutOff, view.Steps[0].State);
        Assert.Equal(TimeSpan.FromSeconds(4), view.Steps[0].Took);
        Assert.Equal((MessageKind.Alarm, "Switch off at the mains."), (view.Log[^1].Kind, view.Log[^1].Text));
    }

    [Fact]
    public void An_answer_ends_only_its_own_question()
    {
        Prompt asked = Prompts.HandsClear("grid.hands-clear", "Hands clear?");
        RunView view = RunView.Of(TestBench.Script("map-bed"), Wren).After(new PromptAsked(TimeSpan.Zero, asked));

        Assert.Equal(asked, view.After(new AnswerGiven(TimeSpan.Zero, "another", "yes")).Asked);
        Assert.Null(view.After(new AnswerGiven(TimeSpan.Zero, asked.Id, "continue")).Asked);
    }

    private static double HalfWidth(Metrology.Thresholds.ThresholdEstimate estimate) => (estimate.UpperMm - estimate.LowerMm) / 2;

    private static async Task<List<RunView>> WatchAsync(SimulatedBench bench, RunScript script)
    {
        ChannelReader<RunEvent>? events = null;
        await bench.RunAsync(script, engine => events = engine.Listen());
        var views = new List<RunView>();
        RunView view = RunView.Of(script, bench.Printer.Profile);
        while (events!.TryRead(out RunEvent? told))
        {
            views.Add(view = view.After(told));
        }

        return views;
    }
}
