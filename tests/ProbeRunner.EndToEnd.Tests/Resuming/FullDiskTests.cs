using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Resuming;

/// <summary>The disk is full in the middle of a capture; real files, a limit on their size in place of the disk's.</summary>
public sealed class FullDiskTests
{
    [Theory]
    [InlineData(300)]
    [InlineData(700)]
    public async Task A_capture_on_a_disk_that_fills_up_stops_safely_keeps_what_it_acknowledged_and_can_be_resumed(int kilobytes)
    {
        if (OperatingSystem.IsWindows())
        {
            return; // no limit on the size of files there
        }

        await using var bench = await Bench.StartAsync();
        await using var person = await bench.SensesAsync();
        string[] grid = ["--set", "grid.columns=8", "--set", "grid.rows=8", "--set", "grid.touches=1"];
        await using var run = bench.BeginOnAFullDisk(kilobytes, "grid", grid);
        var id = await Bench.RunIdAsync(run);

        var exitCode = await run.ExitAsync();

        Assert.True(exitCode == 3, $"{run.Output}\n{run.Errors}");
        var why = Assert.Single(JsonEvents.Named(run.Output, "run-ended")).GetProperty("why").GetString();
        Assert.Contains("free space", why, StringComparison.OrdinalIgnoreCase);
        Assert.Equal("off", await person.AskAsync("look heaters"));
        Assert.Equal("retracted", await person.AskAsync("look pin"));
        var acknowledged = JsonEvents.Readings(run.Output).ToList();
        var stored = await bench.StoredReadingsAsync(id);
        Assert.NotEmpty(acknowledged);
        Assert.All(acknowledged, reading => Assert.Contains(stored, line => StoredLine.Holds(line, reading)));

        await using var resumed = bench.Resume(id);
        Assert.InRange(await resumed.ExitAsync(), 0, 1);
        var whole = await bench.StoredReadingsAsync(id);
        Assert.Equal(whole.Count, whole.Distinct().Count());
        Assert.All(acknowledged, reading => Assert.Contains(whole, line => StoredLine.Holds(line, reading)));
    }
}
