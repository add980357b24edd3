using ProbeRunner.EndToEnd.Tests.Harness;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.EndToEnd.Tests.Tuning;

/// <summary>A machine watched while it warms, over the wire.</summary>
public sealed class WarmUpTests
{
    private const double PrintingBedCelsius = 60; // of the machine's profile

    [Fact]
    public async Task Warm_up_heats_over_the_wire_and_says_what_the_wait_should_be()
    {
        var (bench, printer) = Bench.StartHere("slow-warm-up", speed: "300");
        await using var _ = bench;
        await using var watch = bench.Begin("warm-up", "--set", "pause_seconds=20");

        var exitCode = await watch.ExitAsync();

        Assert.True(exitCode == 0, $"{watch.Output}\n{watch.Errors}");
        Assert.Contains("Next time wait", JsonEvents.Named(watch.Output, "verdict").Single(told => told.GetProperty("step").GetString() == "warm-up").GetProperty("reason").GetString(), StringComparison.Ordinal);
        var (warm, heat) = (bench.Concluded<WarmUpConclusion>(watch), printer.Scenario.Heat);
        var noise = 4.5 * Math.Sqrt(Math.Pow(printer.Scenario.Probe.TouchSdMm, 2) + Math.Pow(printer.Scenario.Probe.ExtensionSdMm, 2));

        // A fast machine's working time falls behind the clock whenever this computer is busy, so how it settles is tried in virtual time.
        var end = heat.BedMmPerKelvin * (PrintingBedCelsius - heat.AmbientCelsius);
        Assert.All(warm.Points, point => Assert.Contains(printer.Truth.Touches, touch => Math.Abs(touch.TrueZ - point.HeightMm) <= noise));
        Assert.InRange(warm.MovedMm, end / 3, end + noise);
        Assert.Equal((0.0, 0.0), printer.Truth.HeaterTargets);
        var report = JsonEvents.Named(watch.Output, "run-ended").Single().GetProperty("report").GetString()!;
        Assert.Contains("Height of one place while the machine warmed", await File.ReadAllTextAsync(report), StringComparison.Ordinal);
    }
}
