using ProbeRunner.Campaigns;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class StepDownTests
{
    private static readonly string[] Cold = ["cold=true", "paper_mm=0.1"];

    [Fact]
    public void Hot_and_soaked_offsets_are_true_within_fifteen_thousandths()
    {
        const int Seeds = 10;
        StepDownTrial[] trials = new StepDownTrial[Seeds];
        Parallel.For(0, Seeds, seed => trials[seed] = StepDownTrial.Of(seed));

        Assert.InRange(trials.Count(trial => Math.Abs(trial.ErrorMm) <= 0.015), Seeds - 1, Seeds); // 95 % of 200 in the campaign "step-down"
        Assert.All(trials, trial => Assert.InRange(trial.Seconds, 15 * 60, 40 * 60));
        Assert.InRange(trials.Count(trial => trial.Person!.LowerMm <= 0.02 && 0.02 <= trial.Person.UpperMm), Seeds - 2, Seeds);
    }

    [Fact]
    public void By_default_bed_and_nozzle_are_hot_and_soaked_and_the_result_stands() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        (double, double)? targets = null;
        bench.Person.Before = prompt => targets = prompt.Id == PromptIds.StepDownPaper ? bench.Host.Truth.HeaterTargets : targets;

        RunOutcome outcome = await bench.RunAsync(RunScript.ForStep("step-down"));

        Assert.True(outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, $"{outcome.Why} {outcome.Verdict.Reason}");
        Assert.Equal((140.0, 60.0), targets);
        StepDownConclusion found = bench.Conclusion<StepDownConclusion>();
        Assert.False(found.Provisional);
        Assert.Contains("15 minutes", found.Conditions, StringComparison.Ordinal);
        Assert.Contains("20 sheets", found.Gauge, StringComparison.Ordinal);
        Assert.NotNull(found.Person);
        Assert.Equal((0.0, 0.0), bench.Host.Truth.HeaterTargets);
        Assert.Equal(-1.5, bench.Host.Truth.LiveOffsetZ, 0.001); // not stored, so put back as it was found
    });

    [Fact]
    public void A_soak_that_was_served_counts_and_is_not_served_again() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        var asked = new List<TimeSpan>();
        bench.Person.Before = prompt =>
        {
            if (prompt.Id is PromptIds.StepDownHeatHandsClear or PromptIds.StepDownWipe)
            {
                asked.Add(time.Elapsed);
            }
        };

        await bench.RunAsync(RunScript.Parse(RunScript.ForStep("step-down", ["paper_mm=0.1"]).Text.Split("#:")[0] + "paper_mm = 0.1\n[[step]]\ndo = \"step-down\"\npaper_mm = 0.1\n", "twice"));

        Assert.Equal(4, asked.Count);
        Assert.True(asked[1] - asked[0] > TimeSpan.FromMinutes(15));
        Assert.True(asked[3] - asked[2] < TimeSpan.FromMinutes(1));
    });

    [Fact]
    public void A_cold_result_and_one_soaked_too_short_are_provisional() => VirtualTime.Run(async time =>
    {
        foreach (string[] set in new[] { Cold, ["soak_minutes=1", "paper_mm=0.1"] })
        {
            await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");

            await bench.RunAsync(RunScript.ForStep("step-down", set));

            Assert.True(bench.Conclusion<StepDownConclusion>().Provisional);
            Assert.Equal((0.0, 0.0), bench.Host.Truth.HeaterTargets);
        }
    });

    [Theory]
    [InlineData(PromptIds.StepDownWipe)]
    [InlineData(PromptIds.StepDownPaper)]
    public void A_stop_anywhere_leaves_heaters_off_and_settings_as_found(string at) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");

        RunOutcome outcome = await bench.RunAsync(RunScript.ForStep("step-down", ["soak_minutes=1"]), engine => bench.Person.Before = prompt =>
        {
            if (prompt.Id == at)
            {
                engine.Control.Stop();
            }
        });

        Assert.True(outcome is RunOutcome.Stopped, outcome.Why);
        Assert.Equal((0.0, 0.0), bench.Host.Truth.HeaterTargets);
        Assert.Equal(-1.5, bench.Host.Truth.LiveOffsetZ, 0.001);
        Assert.True(bench.Host.Truth.SoftLimitsOn);
    });

    [Fact]
    public void Steps_by_hand_move_by_the_finest_step_and_the_answer_holds_for_the_height_reached() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        string[] first = ["down", "down", "up"];
        var gaps = new List<double>();
        bench.Person.Before = prompt => gaps.AddRange(prompt.Id == PromptIds.StepDownPaper ? [bench.Host.Truth.GapMm] : []);
        bench.Person.Instead = prompt => prompt.Id == PromptIds.StepDownPaper && gaps.Count <= first.Length ? first[gaps.Count - 1] : null;

        await bench.RunAsync(RunScript.ForStep("step-down", Cold));

        Assert.Equal([-0.0025, -0.0025, 0.0025], gaps.Take(first.Length).Zip(gaps.Skip(1), (before, after) => Math.Round(after - before, 4)));
        Assert.Equal(VerdictWord.Fit, bench.Conclusion<StepDownConclusion>().Verdict.State);
    });

    [Fact]
    public void An_answer_taken_back_is_asked_for_again_at_the_same_height_and_does_not_count() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        var gaps = new List<double>();
        string[] first = ["free", "undo", "free", "free"];
        bench.Person.Before = prompt => gaps.AddRange(prompt.Id == PromptIds.StepDownPaper ? [bench.Host.Truth.GapMm] : []);
        bench.Person.Instead = prompt => prompt.Id == PromptIds.StepDownPaper && gaps.Count <= first.Length ? first[gaps.Count - 1] : null;

        await bench.RunAsync(RunScript.ForStep("step-down", Cold));

        Assert.Equal(gaps[0], gaps[2], 0.0015);
        StepDownConclusion found = bench.Conclusion<StepDownConclusion>();
        Assert.Equal(bench.Person.Asked.Count(id => id == PromptIds.StepDownPaper) - 2, found.Answers.Length);
        Assert.Equal(VerdictWord.Fit, found.Verdict.State);
    });

    [Theory]
    [InlineData(PromptIds.StepDownPaper, "call-off", "step-down.called-off")]
    [InlineData(PromptIds.StepDownPinUp, "no", "step-down.pin-down")]
    public void What_the_person_stops_writes_nothing(string at, string answer, string finding) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bench.Person.Instead = prompt => prompt.Id == at ? answer : null;

        RunOutcome outcome = await bench.RunAsync(RunScript.ForStep("step-down", Cold));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Equal(finding, Assert.Single(bench.Conclusion<StepDownConclusion>().Findings).Id);
        Assert.Equal(-1.5, bench.Host.Truth.LiveOffsetZ, 0.001);
    });

    [Fact]
    public void Zero_may_mean_that_the_paper_just_drags_and_the_verification_knows() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        RunScript script = RunScript.Parse(RunScript.ForStep("step-down").Text + "zero_means = \"paper\"\ncold = true\npaper_mm = 0.1\n[[step]]\ndo = \"store\"\n[[step]]\ndo = \"verify\"\n", "paper");

        RunOutcome outcome = await bench.RunAsync(script);

        Assert.True(outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, $"{outcome.Why} {outcome.Verdict.Reason}");
        Assert.Equal(-bench.Host.Truth.TriggerDistanceAt(120, 120) + bench.Host.Scenario.Person.PaperMm, bench.Host.Truth.StoredOffsetZ, 0.025);
    });

    [Fact]
    public void Takes_start_where_nobody_can_expect_it() => VirtualTime.Run(async time =>
    {
        var starts = new List<double>();
        foreach (ulong seed in new ulong[] { 1, 2, 3 })
        {
            await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good", seed);
            bool first = false;
            bench.Person.Before = prompt =>
            {
                starts.AddRange(first && prompt.Id == PromptIds.StepDownPaper ? [Math.Round(bench.Host.Truth.GapMm, 3)] : []);
                first = prompt.Id == PromptIds.StepDownPaperIn;
            };
            await bench.RunAsync(RunScript.ForStep("step-down", Cold));
        }

        Assert.True(starts.Count >= 6 && starts.Distinct().Count() == starts.Count, string.Join(", ", starts));
    });
}
