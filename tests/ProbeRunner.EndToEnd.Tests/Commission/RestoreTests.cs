using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Commission;

/// <summary>Settings put back over the wire, and a nested series at the simulated printer.</summary>
public sealed class RestoreTests
{
    [Fact]
    public async Task Restore_puts_the_offset_back_that_the_calibration_replaced()
    {
        await using var bench = await Bench.StartAsync();
        await using var calibration = bench.Begin("commission");
        Assert.Equal(0, await calibration.ExitAsync());
        var run = JsonEvents.Named(calibration.Output, "run-started").Single().GetProperty("run").GetString()!;
        var changed = JsonEvents.Named(calibration.Output, "changed").First(told => told.GetProperty("setting").GetString() == "probe offset Z");

        await using var restore = bench.Restore(run);
        var exitCode = await restore.ExitAsync();

        Assert.True(exitCode == 0, $"{restore.Output}\n{restore.Errors}");
        var back = JsonEvents.Named(restore.Output, "changed").First(told => told.GetProperty("setting").GetString() == "probe offset");
        Assert.Contains(changed.GetProperty("before").GetString()!.Split(' ')[0], back.GetProperty("after").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_nested_series_runs_over_the_wire_and_says_where_the_scatter_comes_from()
    {
        await using var bench = await Bench.StartAsync();
        await using var series = bench.Begin("series", "--set", "mode=nested", "--set", "groups=6");

        var exitCode = await series.ExitAsync();

        Assert.True(exitCode is 0 or 1, $"{series.Output}\n{series.Errors}");
        Assert.Equal(24, JsonEvents.Readings(series.Output).Count());
        Assert.Contains(JsonEvents.Named(series.Output, "finding"), told => told.GetProperty("id").GetString()!.StartsWith("series.scatter-from-", StringComparison.Ordinal));
    }
}
