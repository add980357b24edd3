using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Tuning;

/// <summary>A machine watched while it warms, over the wire.</summary>
public sealed class WarmUpTests
{
    [Fact]
    public async Task Warm_up_heats_over_the_wire_and_says_what_the_wait_should_be()
    {
        await using var bench = await Bench.StartAsync("slow-warm-up", speed: "300");
        await using var watch = bench.Begin("warm-up", "--set", "pause_seconds=20");

        var exitCode = await watch.ExitAsync();

        Assert.True(exitCode == 0, $"{watch.Output}\n{watch.Errors}");
        Assert.Contains("Next time wait", JsonEvents.Named(watch.Output, "verdict").Single(told => told.GetProperty("step").GetString() == "warm-up").GetProperty("reason").GetString(), StringComparison.Ordinal);
        var report = JsonEvents.Named(watch.Output, "run-ended").Single().GetProperty("report").GetString()!;
        Assert.Contains("Height of one place while the machine warmed", await File.ReadAllTextAsync(report), StringComparison.Ordinal);
    }
}
