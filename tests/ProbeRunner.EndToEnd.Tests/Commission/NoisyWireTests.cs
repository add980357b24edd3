using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Commission;

/// <summary>The whole calibration over a pseudo-terminal that damages lines. Damaged replies are tried in virtual time, where waiting costs nothing.</summary>
public sealed class NoisyWireTests
{
    [Fact]
    public async Task With_one_bad_byte_in_a_tenth_of_the_lines_sent_the_readings_are_those_of_a_clean_run()
    {
        var clean = await ReadingsAsync(null);
        var damaged = await ReadingsAsync("bad_byte_to_controller=0.1");

        Assert.True(clean.Ended, clean.Said);
        Assert.True(damaged.Ended, damaged.Said);
        Assert.NotEmpty(clean.Readings);
        Assert.Equal(clean.Readings, damaged.Readings);
    }

    private static async Task<(bool Ended, List<(double X, double Y, double Z)> Readings, string Said)> ReadingsAsync(string? faults)
    {
        await using var bench = await Bench.StartAsync(faults: faults, speed: faults is null ? "100" : "25");
        await using var run = bench.Begin(ColdCalibration.WriteTo(bench.File("cold.toml")));
        var exitCode = await run.ExitAsync();
        return (exitCode is 0 or 1, [.. JsonEvents.Readings(run.Output)], $"{run.Output}\n{run.Errors}");
    }
}
