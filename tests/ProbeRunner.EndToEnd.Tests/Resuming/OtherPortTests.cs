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

    [Fact]
    public async Task The_same_machine_with_other_steps_per_mm_is_refused_and_nothing_moves()
    {
        await using var bench = await Bench.StartAsync();
        var id = await CutOffAsync(bench);
        await File.WriteAllTextAsync(bench.File("changed.toml"), "title = \"Other motors\"\nmachine = \"wren-240\"\nseed = 11\n[travel]\nz_step_mm = 0.00125\n");
        await bench.PlugInElsewhereAsync(bench.File("changed.toml"));
        var touches = bench.TouchesDone.Count;

        await using var resumed = bench.ResumeWithoutPort(id);

        Assert.True(await resumed.ExitAsync() == 2, $"{resumed.Output}\n{resumed.Errors}");
        Assert.Contains("steps per mm Z was 400.00 steps/mm, now 800.00 steps/mm", resumed.Errors, StringComparison.Ordinal);
        Assert.Equal(touches, bench.TouchesDone.Count);
    }

    [Fact]
    public async Task Settings_of_one_machine_are_not_put_on_another()
    {
        await using var bench = await Bench.StartAsync();
        await using var found = bench.Begin("preflight");
        Assert.InRange(await found.ExitAsync(), 0, 1);
        await bench.PlugInElsewhereAsync("heron-good");

        await using var restore = bench.Restore(await Bench.RunIdAsync(found));

        Assert.True(await restore.ExitAsync() == 2, $"{restore.Output}\n{restore.Errors}");
        Assert.Contains("not the machine that run", restore.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("\"changed\"", restore.Output, StringComparison.Ordinal);
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
