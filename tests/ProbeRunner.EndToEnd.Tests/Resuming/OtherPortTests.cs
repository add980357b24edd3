using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Resuming;

/// <summary>The machine is plugged in elsewhere before its run is resumed; real processes, the port's stable name leading to another pseudo-terminal.</summary>
public sealed class OtherPortTests
{
    private static readonly string[] SmallGrid = ["--set", "grid.columns=6", "--set", "grid.rows=5", "--set", "grid.touches=1"];

    [Fact]
    public async Task A_re_numbered_port_is_found_by_its_stable_name_and_each_place_is_taken_once()
    {
        await using var bench = await Bench.StartAsync();
        var id = await CutOffAsync(bench);
        await bench.PlugInElsewhereAsync("good");

        await using var resumed = bench.ResumeWithoutPort(id);

        Assert.True(await resumed.ExitAsync() is 0 or 1, $"{resumed.Output}\n{resumed.Errors}");
        var stored = await bench.StoredReadingsAsync(id);
        Assert.Equal(stored.Count, stored.Distinct().Count());
    }

    [Fact]
    public async Task Another_machine_at_the_same_name_is_refused_and_nothing_moves()
    {
        await using var bench = await Bench.StartAsync();
        var id = await CutOffAsync(bench);
        await bench.PlugInElsewhereAsync("heron-good");

        await using var resumed = bench.ResumeWithoutPort(id);

        Assert.True(await resumed.ExitAsync() == 2, $"{resumed.Output}\n{resumed.Errors}");
        Assert.Contains("not the machine that the run was begun on", resumed.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("\"reading\"", resumed.Output, StringComparison.Ordinal);
    }

    private static async Task<string> CutOffAsync(Bench bench)
    {
        await using var run = bench.Begin("grid", SmallGrid);
        var id = await Bench.RunIdAsync(run);
        await run.LineAsync(line => line.Contains("\"reading\"", StringComparison.Ordinal));
        await run.KillAsync();
        return id;
    }
}
