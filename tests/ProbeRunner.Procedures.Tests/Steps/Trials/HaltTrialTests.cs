using ProbeRunner.Machine.Geometry;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps.Trials;

public sealed class HaltTrialTests
{
    private static readonly string[] Steps = ["preflight", "first-lift", "home-xy", "self-check", "first-home-z"];

    [Theory]
    [InlineData("good")]
    [InlineData("heron-good")]
    public void A_halt_stops_the_nozzle_on_its_way_and_the_machine_is_homed_again_after_a_reset(string scenario) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, scenario);
        double haltedAt = 0;
        bool wasHalted = false, wasHomed = true;
        bench.Person.Before = prompt =>
        {
            if (prompt.Id == PromptIds.HaltTrialStopped)
            {
                (haltedAt, wasHalted) = (bench.Host.Truth.GapMm, bench.Host.Truth.IsHalted);
                wasHomed = bench.Host.Truth.Homed.X;
            }
        };

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps([.. Steps, "halt-trial", "do = \"series\"\nmost_readings = 40"]));

        Assert.True(outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, outcome.Why + outcome.Verdict.Reason);
        Assert.True(wasHalted);
        Assert.False(wasHomed);
        Assert.InRange(haltedAt, 41, 69);
        Assert.Equal(Axes.All, bench.Printer.Now.Homed);
        Assert.Empty(bench.Host.Truth.IllegalMoves);
        Assert.Empty(bench.Host.Truth.Scratches);
    });

    [Fact]
    public void Motors_that_hold_after_the_halt_end_the_work() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bench.Person.Instead = prompt => prompt.Id == PromptIds.HaltTrialStopped ? "no" : null;

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps([.. Steps, "halt-trial", "series"]));

        Assert.Equal(VerdictWord.NotFit, outcome.Verdict.State);
        Assert.Contains("halt line", outcome.Verdict.Reason, StringComparison.Ordinal);
    });

    [Theory]
    [InlineData("skip = true", null)]
    [InlineData("skip = false", "skip")]
    public void It_can_be_left_out_and_says_so(string parameter, string? answer) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bench.Person.Instead = prompt => prompt.Id == PromptIds.HaltTrialBegin ? answer : null;

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps([.. Steps, $"do = \"halt-trial\"\n{parameter}"]));

        Assert.Equal(VerdictWord.Fit, outcome.Verdict.State);
        Assert.Equal("halt-trial.not-tried", Assert.Single(bench.Conclusion<PlainConclusion>().Findings).Id);
    });

    [Fact]
    public void It_is_not_tried_hot() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bench.Person.Before = prompt =>
        {
            if (prompt.Id == PromptIds.HaltTrialBegin)
            {
                _ = bench.Printer.SetHeaterTargetsAsync(60, null, CancellationToken.None);
            }
        };

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps([.. Steps, "halt-trial"]));

        Assert.Equal(VerdictWord.NotFit, outcome.Verdict.State);
        Assert.False(bench.Host.Truth.IsHalted);
        Assert.Equal((0.0, 0.0), bench.Host.Truth.HeaterTargets);
    });

    [Fact]
    public void A_power_cut_instead_of_a_reset_is_resumed() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bench.Person.Before = prompt =>
        {
            if (prompt.Id == PromptIds.HaltTrialReset)
            {
                bench.Host.PullCable();
            }
        };
        RunOutcome cut = await bench.RunAsync(TestBench.Steps([.. Steps, "halt-trial"]));
        bench.Person.Before = null;
        await bench.ComeBackAsync();

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps([.. Steps, "halt-trial"]));

        Assert.IsType<RunOutcome.Faulted>(cut);
        Assert.True(outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, outcome.Why);
        Assert.Empty(bench.Host.Truth.IllegalMoves);
    });
}
