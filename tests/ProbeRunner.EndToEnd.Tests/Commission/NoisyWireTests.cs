using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Commission;

/// <summary>The whole calibration over a pseudo-terminal that damages lines. Damaged replies are tried in virtual time, where waiting costs nothing.</summary>
public sealed class NoisyWireTests
{
    /// <summary>The trials have tests of their own, and a smaller grid meets damage as often.</summary>
    private static readonly string[] Shorter =
        ["--set", "heater-trial.heaters=none", "--set", "halt-trial.skip=true", "--set", "grid.columns=4", "--set", "grid.rows=4",
            "--set", "step-down.cold=true"];

    [Fact]
    public async Task With_one_bad_byte_in_a_tenth_of_the_lines_sent_the_readings_are_those_of_a_clean_run()
    {
        var clean = await ReadingsAsync(null);
        var damaged = await ReadingsAsync("bad_byte_to_controller=0.1");

        Assert.Equal(0, clean.ExitCode);
        Assert.True(damaged.ExitCode == 0, damaged.Said);
        Assert.Equal(clean.Readings, damaged.Readings);
    }

    private static async Task<(int ExitCode, List<(double X, double Y, double Z)> Readings, string Said)> ReadingsAsync(string? faults)
    {
        await using var bench = await Bench.StartAsync(faults: faults, speed: faults is null ? "100" : "25");
        await using var run = bench.Begin("commission", Shorter);
        var exitCode = await run.ExitAsync();
        return (exitCode, [.. JsonEvents.Readings(run.Output)], $"{run.Output}\n{run.Errors}");
    }
}
