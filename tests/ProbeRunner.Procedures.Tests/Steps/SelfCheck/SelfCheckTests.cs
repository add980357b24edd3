using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Faults;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps.SelfCheck;

public sealed class SelfCheckTests
{
    private static readonly string[] Steps = ["first-lift", "home-xy", "self-check"];

    [Theory]
    [InlineData("dead-probe", "dead")]
    [InlineData("stuck-probe", "stuck")]
    [InlineData("reversed-probe", "reversed")]
    [InlineData("flickering-probe", "flickering")]
    public void A_bad_probe_is_told_by_its_symptoms_and_nothing_comes_down(string scenario, string expected) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, scenario);

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps([.. Steps, "first-home-z"]));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Equal(VerdictWord.NotFit, outcome.Verdict.State);
        SelfCheckConclusion check = bench.Conclusion<SelfCheckConclusion>();
        Assert.Equal(expected, check.Condition);
        Assert.Equal($"self-check.{expected}", Assert.Single(check.Findings).Id);
        Assert.DoesNotContain(PromptIds.SelfCheckPush, bench.Person.Asked);
        Assert.Equal(0, bench.Host.Truth.TouchCount);
        Assert.False(bench.Host.Truth.PinExtended);
    });

    [Theory]
    [InlineData("stays-in", "does not move", "did not extend")]
    [InlineData("stays-out", "does not move", "")]
    [InlineData("reversed", "reversed", "")]
    public void A_defect_that_a_fault_plan_brings_is_told_too(string defect, string expected, string said) => VirtualTime.Run(async time =>
    {
        FaultPlan faults = FaultFile.Parse($"defect = \"{defect}\"\ndefect_from_touch = 1", "faults");
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good", faults: faults);

        await bench.RunAsync(TestBench.Steps(Steps));

        SelfCheckConclusion check = bench.Conclusion<SelfCheckConclusion>();
        Assert.Equal(expected, check.Condition);
        Assert.Contains(said.Length > 0 ? "failed to extend" : "Its switch read", check.Findings[0].Evidence, StringComparison.Ordinal);
    });

    [Fact]
    public void A_good_probe_is_seen_both_ways_with_counts_and_times() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");

        await bench.RunAsync(TestBench.Steps(Steps));

        SelfCheckConclusion check = bench.Conclusion<SelfCheckConclusion>();
        Assert.Equal((VerdictWord.Fit, "healthy", 5, 0, true), (check.Verdict.State, check.Condition, check.Cycles, check.Faults, check.TriggerStoppedDescent));
        Assert.Equal(
            "before Open 5, out Open 15, in Open 5, pushed Triggered 6, let go Open 6, after clearing its fault Open 2",
            string.Join(", ", check.Looks!.Select(look => $"{look.Moment} {look.State} {look.Count}")));
        double extends = bench.Host.Scenario.Probe.MoveSeconds;
        Assert.InRange(check.ExtendSeconds, extends, extends + 0.2);
        Assert.InRange(check.DescentSeconds, 1, 30);
        Assert.Empty(bench.Host.Truth.Scratches);
        Assert.Empty(bench.Host.Truth.IllegalMoves);
    });

    [Fact]
    public void A_pin_that_pulls_itself_in_when_pushed_is_proven_by_the_descent() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good", change: machine => machine with { Probe = machine.Probe with { PullsItselfIn = true } });

        await bench.RunAsync(TestBench.Steps(Steps));

        Assert.Equal("healthy", bench.Conclusion<SelfCheckConclusion>().Condition);
        Assert.Contains(PromptIds.SelfCheckPulledItselfIn, bench.Person.Asked);
    });

    [Fact]
    public void A_descent_that_does_not_stop_ends_the_work() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bench.Person.Instead = prompt => prompt.Id == PromptIds.SelfCheckStoppedHigh ? "no" : null;

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps(Steps));

        Assert.Equal(VerdictWord.NotFit, outcome.Verdict.State);
        Assert.Equal("not heeded", bench.Conclusion<SelfCheckConclusion>().Condition);
    });

    [Theory]
    [InlineData(ProbeKind.MetalSensing, "metal")]
    [InlineData(ProbeKind.NozzleContact, "wood")]
    [InlineData(ProbeKind.Docked, "fingertip")]
    public void Each_kind_of_probe_is_triggered_in_its_own_way(ProbeKind kind, string with) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(
            time, "good",
            change: machine => machine with { Probe = machine.Probe with { Retracts = false } },
            profile: profile => profile with { Probe = profile.Probe with { Kind = kind } });
        var texts = new List<string>();
        bench.Person.Before = prompt => texts.Add($"{prompt.Id}: {prompt.Text}");

        await bench.RunAsync(TestBench.Steps(Steps));

        Assert.Equal("healthy", bench.Conclusion<SelfCheckConclusion>().Condition);
        Assert.Contains(texts, text => text.StartsWith(PromptIds.SelfCheckHold, StringComparison.Ordinal) && text.Contains(with, StringComparison.Ordinal));
        Assert.DoesNotContain(texts, text => text.StartsWith(PromptIds.SelfCheckMovedEachTime, StringComparison.Ordinal));
        Assert.Equal(kind == ProbeKind.Docked, texts.Any(text => text.StartsWith(PromptIds.SelfCheckHangOn, StringComparison.Ordinal)));
    });

    [Fact]
    public void A_hot_nozzle_is_not_pressed_by_hand() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(
            time, "good", profile: profile => profile with { Probe = profile.Probe with { Kind = ProbeKind.NozzleContact } });
        await bench.Printer.SetHeaterTargetsAsync(80, null, CancellationToken.None);
        await bench.Printer.DwellAsync(TimeSpan.FromSeconds(30), CancellationToken.None);

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps(Steps));

        Assert.Equal(VerdictWord.NotFit, outcome.Verdict.State);
        Assert.DoesNotContain(PromptIds.SelfCheckHold, bench.Person.Asked);
    });

    [Fact]
    public void Scenario_files_name_their_defect() =>
        Assert.Equal(ProbeRunner.SimulatedPrinter.Physics.ProbeDefect.Reversed, ScenarioFile.Load("reversed-probe").Probe.Defect);
}
