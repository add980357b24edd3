using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class CommissionTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void A_commission_on_an_ideal_machine_finds_the_true_offset_and_ends_fit(ulong seed) => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time, seed);

        RunOutcome outcome = await bench.RunAsync(TestBench.Script("commission"));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.True(outcome.Verdict.State == VerdictWord.Fit, outcome.Verdict.Reason);
        Assert.Equal(-IdealPrinter.TriggerToNozzleMm, bench.Printer.StoredOffset.Z, 0.012);
        Assert.Equal(-IdealPrinter.TriggerToNozzleMm, bench.Conclusion<StepDownConclusion>().OffsetMm, 0.012);
        Assert.Equal(1, bench.Printer.Stores);
        Assert.True(bench.Printer.SoftLimitsOn);
        Assert.True(bench.Printer.LowestGapMm > -0.1, $"lowest gap {bench.Printer.LowestGapMm}");
        Assert.Equal(TestBench.Script("commission").Steps.Length, bench.Events.OfType<StepEnded>().Count());
    });

    [Fact]
    public void The_captured_plane_and_the_mesh_are_the_bed_s() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);

        await bench.RunAsync(TestBench.Script("commission"));

        CaptureConclusion capture = bench.Conclusion<CaptureConclusion>();
        Assert.Equal(0.002 * (capture.Area.MaxX - capture.Area.MinX), capture.TiltXMm, 0.002);
        Assert.Equal(-0.001 * (capture.Area.MaxY - capture.Area.MinY), capture.TiltYMm, 0.002);
        MeshConclusion mesh = bench.Conclusion<MeshConclusion>();
        Assert.Equal(mesh.Wanted.Heights.ToArray(), bench.Printer.Mesh.Heights.ToArray());
        double left = 0.002 * (mesh.Wanted.Area.MinX - 120), front = -0.001 * (mesh.Wanted.Area.MinY - 120);
        Assert.Equal(left + front, mesh.Wanted.Heights[0], 0.005);
    });

    [Fact]
    public void A_probe_that_scatters_ends_the_work_and_nothing_is_written_or_stored() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Printer.TouchNoise = touch => touch % 2 == 0 ? 0.03 : -0.03;

        RunOutcome outcome = await bench.RunAsync(TestBench.Script("commission"));

        Assert.IsType<RunOutcome.Completed>(outcome);
        Assert.Equal(VerdictWord.NotFit, outcome.Verdict.State);
        Assert.Equal(0, bench.Printer.Stores);
        Assert.DoesNotContain("write-offset", bench.Printer.Log);
        Assert.DoesNotContain("write-mesh", bench.Printer.Log);
        Assert.Equal("conclusions", bench.Events.OfType<StepEnded>().Last().Step);
    });

    [Fact]
    public void Progress_never_runs_backwards_and_time_left_ends_near_nothing() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);

        await bench.RunAsync(TestBench.Script("commission"));

        var progress = bench.Events.OfType<ProgressMoved>().ToList();
        Assert.All(progress.Zip(progress.Skip(1)), pair => Assert.True(pair.Second.Fraction >= pair.First.Fraction));
        Assert.True(progress[^1].TimeLeft < TimeSpan.FromMinutes(3));
    });

    [Fact]
    public void Every_verb_that_moves_into_a_persons_reach_follows_hands_clear() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        var clear = new List<string>();
        bool handsClear = false;
        bench.Person.Before = prompt =>
        {
            handsClear = prompt.HandsClear;
            return Task.CompletedTask;
        };
        bench.Printer.Before = (verb, _) =>
        {
            if (!handsClear && verb is "lift" or "home-xy" or "home-z" or "touch" or "move" or "clear" && !handsClear)
            {
                clear.Add($"{verb} after {bench.Person.Asked[^1]}");
            }

            return Task.CompletedTask;
        };

        await bench.RunAsync(TestBench.Script("commission"));

        Assert.Equal(["home-z after self-check.push-the-probe"], clear.Where(entry => !entry.StartsWith("clear", StringComparison.Ordinal)).Distinct());
    });
}
