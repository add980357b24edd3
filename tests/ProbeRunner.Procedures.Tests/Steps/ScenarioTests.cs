using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class ScenarioTests
{
    /// <summary>
    /// The usual probe is exactly as good as the limit, and the usual person errs now and then: the series and the step-down then say "not
    /// fit" in some runs in a hundred, by design. These tests are about the machine, whatever the draw, so probe and person are steadier.
    /// </summary>
    private static Scenario WithoutVerdictErrors(Scenario scenario) => scenario with
    {
        Probe = scenario.Probe with { TouchSdMm = 0.003, ExtensionSdMm = 0.002 },
        Person = scenario.Person with { FeelSdMm = 0.01, LapseChance = 0 },
    };

    [Theory]
    [InlineData("good")]
    [InlineData("tilted")]
    [InlineData("warped")]
    [InlineData("leaning-gantry")]
    [InlineData("far-corner")]
    [InlineData("heron-good")]
    public void The_offset_is_true_within_three_hundredths_and_nothing_was_scratched(string scenario) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, scenario, change: WithoutVerdictErrors);

        RunOutcome outcome = await bench.RunAsync(TestBench.Script("commission"));

        VerdictWord right = scenario == "leaning-gantry" ? VerdictWord.NotFit : VerdictWord.Fit; // the lean is found, and stored is the offset all the same
        Assert.True(outcome is RunOutcome.Completed && outcome.Verdict.State == right, $"{outcome.Why} {outcome.Verdict.Reason}");
        StepDownConclusion offset = bench.Conclusion<StepDownConclusion>();
        double truth = -bench.Host.Truth.TriggerDistanceAt(offset.Place.X, offset.Place.Y);
        Assert.Equal(truth, bench.Host.Truth.StoredOffsetZ, 0.03);
        Assert.All(bench.Host.Truth.Scratches, scratch => Assert.True(scratch.DepthMm <= 0.10));
        Assert.Empty(bench.Host.Truth.IllegalMoves);
        Assert.Equal((0.0, 0.0), bench.Host.Truth.HeaterTargets);
        Assert.True(bench.Host.Truth.SoftLimitsOn);
    });

    [Theory]
    [InlineData("good")]
    [InlineData("tilted")]
    [InlineData("warped")]
    [InlineData("leaning-gantry")]
    [InlineData("far-corner")]
    [InlineData("heron-good")]
    public void Every_reading_of_the_grid_is_true_within_its_noise(string scenario) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, scenario, change: WithoutVerdictErrors);

        await bench.RunAsync(TestBench.Script("commission", "mesh.hot_grid=false")); // the truth is asked at the end: the bed must not have warmed since

        Scenario machine = bench.Host.Scenario;
        double noise = Math.Sqrt(Math.Pow(machine.Probe.TouchSdMm, 2) + Math.Pow(machine.Probe.ExtensionSdMm, 2));
        CaptureConclusion capture = bench.Conclusion<CaptureConclusion>();
        foreach (var epoch in capture.Readings.GroupBy(reading => reading.DatumEpoch))
        {
            double[] off = [.. epoch.Select(reading => reading.Z - bench.Host.Truth.ReadingAt(reading.Place.X, reading.Place.Y))];
            double middle = off.Order().ElementAt(off.Length / 2);
            Assert.All(off, one => Assert.True(Math.Abs(one - middle) <= (4.5 * noise) + (1 / machine.Travel.StepsPerMmZ), $"off by {one - middle:0.0000}, noise {noise:0.0000}"));
        }
    });

    [Fact]
    public void A_loose_probe_ends_as_not_fit_with_nothing_stored() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "loose-probe");
        Truth truth = bench.Host.Truth;
        (double live, double stored) = (truth.LiveOffsetZ, truth.StoredOffsetZ);

        RunOutcome outcome = await bench.RunAsync(TestBench.Script("commission"));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Equal(VerdictWord.NotFit, outcome.Verdict.State);
        Assert.Equal((live, stored), (truth.LiveOffsetZ, truth.StoredOffsetZ));
        Assert.All(truth.StoredMesh, node => Assert.Equal(0, node));
    });
}
