using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class WarmUpTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void It_ends_when_the_bed_has_truly_settled_and_finds_how_far_and_how_slowly_it_moved(ulong seed) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "slow-warm-up", seed);

        RunOutcome outcome = await bench.RunAsync(Script());

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        WarmUpConclusion warm = bench.Conclusion<WarmUpConclusion>();
        HeatScenario heat = bench.Host.Scenario.Heat;
        double end = heat.BedMmPerKelvin * (bench.Printer.Profile.Heat.PrintingBedCelsius - heat.AmbientCelsius);

        // What remained at the last touch: by the simulated physics the bed follows its (by then constant) temperature with one time constant.
        double remained = end * Math.Exp(-(warm.Points[^1].Seconds - warm.HotAtSeconds) / heat.BedLagSeconds);
        Assert.True(warm.Settled, warm.Verdict.Reason);
        Assert.True(remained <= warm.ToleranceMm, $"{remained:0.0000} mm remained. {warm.Verdict.Reason}");
        Assert.Equal(end, warm.MovedMm, 0.012);
        Assert.InRange(heat.BedLagSeconds, warm.Curve!.TimeConstantLowerSeconds, warm.Curve.TimeConstantUpperSeconds);
        Assert.True(warm.WaitNextTimeMinutes * 60 >= heat.BedLagSeconds * Math.Log(end / warm.ToleranceMm) * 0.8, warm.Verdict.Reason);
        Assert.True(warm.WaitNextTimeMinutes <= 25, warm.Verdict.Reason);
        Assert.All(warm.Points, point => Assert.True(point.BedCelsius >= heat.AmbientCelsius - 1));
        Assert.Equal((0.0, 0.0), bench.Host.Truth.HeaterTargets);
    });

    [Fact]
    public void A_bed_that_goes_on_creeping_is_not_called_settled_at_the_limit() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "slow-warm-up", 1, change: scenario => scenario with { Bed = scenario.Bed with { DriftMmPerHour = 0.15 } });

        await bench.RunAsync(Script("most_minutes = 20"));

        WarmUpConclusion warm = bench.Conclusion<WarmUpConclusion>();
        Assert.False(warm.Settled, warm.Verdict.Reason);
        Assert.Null(warm.WaitNextTimeMinutes);
        Assert.Equal("warm-up.not-settled", warm.Findings[0].Id);
        Assert.InRange(warm.Points[^1].Seconds - warm.HotAtSeconds, 20 * 60, 22 * 60);
    });

    [Fact]
    public void A_wait_in_the_profile_that_is_too_short_is_named_with_the_one_to_write() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "slow-warm-up", 1, change: scenario => scenario with { Heat = scenario.Heat with { BedLagSeconds = 500 } });

        await bench.RunAsync(Script("most_minutes = 60"));

        WarmUpConclusion warm = bench.Conclusion<WarmUpConclusion>();
        Finding finding = Assert.Single(warm.Findings);
        Assert.Equal("warm-up.soak-too-short", finding.Id);
        Assert.Equal($"Set soak_minutes = {warm.WaitNextTimeMinutes} in the machine's profile.", finding.Next);
    });

    [Fact]
    public void A_person_acknowledges_the_heat_before_anything_heats_and_a_stop_switches_it_off() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "slow-warm-up");
        RunEngine? running = null;
        bench.Person.Before = prompt =>
        {
            Assert.Equal((0.0, 0.0), bench.Host.Truth.HeaterTargets);
            if (prompt.Id == PromptIds.WarmUpHandsClear)
            {
                time.CreateTimer(_ => running!.Control.Stop(), null, TimeSpan.FromMinutes(3), Timeout.InfiniteTimeSpan);
            }
        };

        RunOutcome outcome = await bench.RunAsync(Script(), engine => running = engine);

        Assert.IsType<RunOutcome.Stopped>(outcome);
        Assert.Contains(PromptIds.WarmUpCautions, bench.Person.Asked);
        Assert.Equal((0.0, 0.0), bench.Host.Truth.HeaterTargets);
    });

    [Fact]
    public void Without_a_person_it_is_refused_before_anything_moves() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Person.IsPresent = false;

        await Assert.ThrowsAsync<ScriptRefusedException>(() => bench.RunAsync(Script()));

        Assert.Empty(bench.Printer.Log);
    });

    private static RunScript Script(string more = "") => TestBench.Steps("first-lift", "home", $"do = \"warm-up\"\n{more}");
}
