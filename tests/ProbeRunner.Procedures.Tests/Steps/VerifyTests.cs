using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class VerifyTests
{
    private const double Right = -2.15;

    [Theory]
    [InlineData(2 * Right, PromptIds.VerifyGapFive)]
    [InlineData(-Right, PromptIds.VerifyGapFive)]
    [InlineData(0, PromptIds.VerifyGapOne)]
    [InlineData(Right + 1, PromptIds.VerifyGapOne)]
    [InlineData(Right - 1, PromptIds.VerifyGapFive)]
    public void A_wrong_stored_offset_is_found_high_above_the_bed_and_not_in_it(double stored, string lastAsked) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good", change: good => good with { Controller = good.Controller with { StoredOffsetZ = stored } });

        RunOutcome outcome = await bench.RunAsync(RunScript.ForStep("verify"));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Equal("verify.gap-wrong", Assert.Single(bench.Conclusion<VerifyConclusion>().Findings).Id);
        Assert.Equal(lastAsked, bench.Person.Asked.Last(id => id is PromptIds.VerifyGapFive or PromptIds.VerifyGapOne or PromptIds.VerifyPaper));
        Assert.True(bench.Host.Truth.LowestGapMm > 0.5, $"{bench.Host.Truth.LowestGapMm}");
        Assert.Empty(bench.Host.Truth.Scratches);
        Assert.True(bench.Host.Truth.SoftLimitsOn);
        Assert.Equal(stored, bench.Host.Truth.LiveOffsetZ, 0.001);
    });

    [Fact]
    public void A_right_stored_offset_is_proven_without_a_step_down_before_it() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good", change: good => good with { Controller = good.Controller with { StoredOffsetZ = Right } });

        RunOutcome outcome = await bench.RunAsync(RunScript.ForStep("verify"));

        Assert.True(outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, $"{outcome.Why} {outcome.Verdict.Reason}");
        Assert.All(bench.Host.Truth.Scratches, scratch => Assert.True(scratch.DepthMm <= 0.10));
    });
}
