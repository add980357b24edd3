using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class LeanTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void A_leaning_gantry_is_found_with_what_it_does_at_the_side_within_two_hundredths(ulong seed) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "leaning-gantry", seed);

        RunOutcome outcome = await bench.RunAsync(TestBench.Script("check-lean"));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        LeanConclusion lean = bench.Conclusion<LeanConclusion>();
        LeanAlongAxis x = Assert.Single(lean.Axes);

        // How often its 95 % interval holds the truth is the campaign's to show: of a few seeds one may well miss.
        Assert.Equal(bench.Host.Scenario.Probe.LeanX * 120, x.SlopeMmPerMm * 120, 0.02);
        Assert.True(x.IsSeen);
        Assert.Equal(VerdictWord.NotFit, lean.Verdict.State);
        Assert.Contains(lean.Findings, finding => finding.Id == "lean.leans");
        Assert.Empty(bench.Host.Truth.IllegalMoves);
        Assert.All(bench.Host.Truth.Scratches, scratch => Assert.True(scratch.DepthMm <= 0.10, $"{scratch.DepthMm:0.000} mm"));
    });

    [Fact]
    public void A_straight_gantry_is_fit_and_nothing_was_written() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good", 2);
        double before = bench.Host.Truth.LiveOffsetZ;

        RunOutcome outcome = await bench.RunAsync(TestBench.Script("check-lean"));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        LeanConclusion lean = bench.Conclusion<LeanConclusion>();
        Assert.True(lean.Verdict.State == VerdictWord.Fit, lean.Verdict.Reason);
        Assert.Equal(before, bench.Host.Truth.LiveOffsetZ);
        Assert.True(bench.Host.Truth.SoftLimitsOn);
    });

    [Fact]
    public void A_gantry_that_moves_along_Y_is_looked_at_along_both_axes() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "heron-good");

        await bench.RunAsync(TestBench.Script("check-lean"));

        LeanConclusion lean = bench.Conclusion<LeanConclusion>();
        Assert.Equal(["X", "Y"], lean.Axes.Select(axis => axis.Axis));
        Assert.All(lean.Axes, axis => Assert.Equal(0, axis.SlopeMmPerMm * 165, 0.02));
    });

    [Fact]
    public void Calling_it_off_ends_it_undecided_with_the_nozzle_lifted_and_limits_on() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bench.Person.Instead = prompt => prompt.Id == PromptIds.LeanPaper && bench.Person.Asked.Count(id => id == PromptIds.LeanPaper) > 30 ? "call-off" : null;

        RunOutcome outcome = await bench.RunAsync(TestBench.Script("check-lean"));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Equal(VerdictWord.Undecided, bench.Conclusion<LeanConclusion>().Verdict.State);
        Assert.True(bench.Host.Truth.GapMm > 1);
        Assert.True(bench.Host.Truth.SoftLimitsOn);
    });
}
