using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Engine;

public sealed class SimulatedResumeTests
{
    [Theory]
    [InlineData(60)]
    [InlineData(150)]
    [InlineData(200)]
    [InlineData(260)]
    [InlineData(330)]
    public void A_commission_cut_off_by_a_power_cut_finishes_on_the_real_printer(int row) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        RunScript script = TestBench.Script("commission");
        bench.Journal.CutAfterRow = row;
        await bench.RunAsync(script);
        bench.Journal.CutAfterRow = 0;
        await bench.ComeBackAsync();

        RunOutcome outcome = await bench.RunAsync(script);

        Assert.True(outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, $"{outcome.Why} {outcome.Verdict.Reason}");
        Assert.Equal(-bench.Host.Truth.TriggerDistanceAt(120, 120), bench.Host.Truth.StoredOffsetZ, 0.03);
        Assert.Empty(bench.Host.Truth.IllegalMoves);
    });

    [Fact]
    public void A_stop_in_the_paper_test_leaves_the_settings_as_they_were_found() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        double found = bench.Host.Truth.LiveOffsetZ;

        RunOutcome outcome = await bench.RunAsync(TestBench.Script("commission"), engine => bench.Person.Before = prompt =>
        {
            if (prompt.Id == PromptIds.StepDownPaper)
            {
                engine.Control.Stop();
            }
        });

        Assert.True(outcome is RunOutcome.Stopped, outcome.Why);
        Assert.Equal(found, bench.Host.Truth.LiveOffsetZ);
        Assert.True(bench.Host.Truth.SoftLimitsOn);
        Assert.Equal((0.0, 0.0), bench.Host.Truth.HeaterTargets);
        Assert.False(bench.Host.Truth.PinExtended);
    });
}
