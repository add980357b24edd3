using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps.Preflight;

public sealed class PreflightTests
{
    [Theory]
    [InlineData("good")]
    [InlineData("heron-good")]
    public void A_machine_that_is_as_its_profile_says_has_nothing_to_be_named(string scenario) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, scenario);

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps("preflight"));

        PreflightConclusion found = bench.Conclusion<PreflightConclusion>();
        Assert.Equal(VerdictWord.Fit, outcome.Verdict.State);
        Assert.Empty(found.Findings);
        Assert.Equal((false, true), (found.MeshCorrectionOn, found.SoftLimitsOn));
        Assert.NotNull(found.Limits);
        Assert.Contains("z probe", found.Switches!.Keys);
        Assert.Contains("steps per mm Z", found.SettingsBefore.Values.Keys);
    });

    [Theory]
    [InlineData("offset", "preflight.offset-contradiction")]
    [InlineData("offset-z", "preflight.offset-above-zero")]
    [InlineData("steps-z", "preflight.steps-contradiction")]
    [InlineData("steps-xy", "preflight.steps-odd-x preflight.steps-odd-y")]
    [InlineData("travel", "preflight.travel-x")]
    [InlineData("height", "preflight.travel-z")]
    [InlineData("bed", "preflight.bed-size")]
    public void Each_contradiction_is_named_and_may_stop_the_work(string what, string expected) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good", change: scenario => With(scenario, what));
        bench.Person.Instead = prompt => prompt.Id == PromptIds.Contradiction ? "stop" : null;
        string asked = string.Empty;
        bench.Person.Before = prompt => asked = prompt.Id == PromptIds.Contradiction ? prompt.Text : asked;

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps("preflight", "first-lift"));

        PreflightConclusion found = bench.Conclusion<PreflightConclusion>();
        Assert.Equal(expected, string.Join(' ', found.Findings.Select(finding => finding.Id)));
        Assert.Equal(VerdictWord.NotFit, outcome.Verdict.State);
        Assert.All(found.Findings, finding => Assert.Contains(finding.Next, asked, StringComparison.Ordinal));
    });

    [Fact]
    public void What_is_switched_otherwise_than_usual_is_noted_and_does_not_stop() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        await bench.Printer.SetSoftLimitsAsync(false, CancellationToken.None);

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps("preflight"));

        Assert.Equal(VerdictWord.Fit, outcome.Verdict.State);
        Assert.Equal("preflight.soft-limits-off", Assert.Single(bench.Conclusion<PreflightConclusion>().Findings).Id);
    });

    [Fact]
    public void A_controller_that_says_little_is_gone_on_with() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(
            time, "good", change: scenario => scenario with { Controller = scenario.Controller with { ReportsSettings = false } });

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps("preflight"));

        Assert.Equal(VerdictWord.Fit, outcome.Verdict.State);
        Assert.Equal("preflight.steps-unknown", Assert.Single(bench.Conclusion<PreflightConclusion>().Findings).Id);
    });

    [Theory]
    [InlineData(true, VerdictWord.Fit)]
    [InlineData(false, VerdictWord.NotFit)]
    public void A_switch_that_reads_pressed_is_looked_at(bool standsThere, VerdictWord expected) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        await bench.Printer.HomeAsync(Machine.Geometry.Axes.XY, CancellationToken.None);
        bench.Person.Instead = prompt => prompt.Id == PromptIds.PreflightSwitchPressed && !standsThere ? "no" : null;

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps("preflight"));

        Assert.Equal(expected, outcome.Verdict.State);
        Assert.Contains(PromptIds.PreflightSwitchPressed, bench.Person.Asked);
    });

    [Theory]
    [InlineData(true, VerdictWord.Fit)]
    [InlineData(false, VerdictWord.NotFit)]
    public void A_triggered_probe_is_left_to_its_self_check_where_there_is_a_person(bool person, VerdictWord expected) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "stuck-probe");

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps(person ? "preflight" : "do = \"preflight\"\nquestions = false"));

        Assert.Equal(expected, outcome.Verdict.State);
        Assert.Equal("preflight.probe-triggered", Assert.Single(bench.Conclusion<PreflightConclusion>().Findings).Id);
    });

    [Theory]
    [InlineData(PromptIds.BedClean)]
    [InlineData(PromptIds.BedLevelByHand)]
    [InlineData(PromptIds.MainsInReach)]
    public void A_question_answered_no_ends_the_work_before_anything_moves(string question) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bench.Person.Instead = prompt => prompt.Id == question ? "no" : null;

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps("preflight", "first-lift"));

        Assert.Equal(VerdictWord.NotFit, outcome.Verdict.State);
        Assert.DoesNotContain(PromptIds.FirstLiftHandsClear, bench.Person.Asked);
    });

    private static Scenario With(Scenario good, string what) => what switch
    {
        "offset" => good with { Controller = good.Controller with { StoredOffsetX = 38 } },
        "offset-z" => good with { Controller = good.Controller with { StoredOffsetZ = 1.5 } },
        "steps-z" => good with { Travel = good.Travel with { StepsPerMmZ = 800 } },
        "steps-xy" => good with { Travel = good.Travel with { StepsPerMmXY = 1 } },
        "travel" => good with { Travel = good.Travel with { MaxX = 200 } },
        "height" => good with { Travel = good.Travel with { HighestZ = 180 } },
        _ => good with { Mesh = good.Mesh with { MaxX = 290 } },
    };
}
