using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Unattended;

/// <summary>A warm capture with nobody there: allowed once the controller was shown to go cold by itself, and no longer than it was allowed.</summary>
public sealed class HeatedCaptureTests
{
    private const int PlacesOffClips = 14; // of 16: two lie on clips of this machine

    private const string Controller = """
        title = "A controller that switches its heaters off in silence"
        machine = "wren-240"
        [controller]
        silence_heaters_off_seconds = 100
        """;

    private const string WarmGrid = """
        title = "Warm grid"
        [[step]]
        do = "first-lift"
        confirm = false
        [[step]]
        do = "home"
        [[step]]
        do = "grid"
        columns = 4
        rows = 4
        touches = 1
        bed_celsius = 40
        soak_minutes = 1
        pause_bed_heater = true
        """;

    [Fact]
    public async Task A_warm_capture_alone_runs_where_it_may_ends_cold_and_never_goes_on_longer_than_it_was_allowed()
    {
        using var folder = new TemporaryFolder();
        await File.WriteAllTextAsync(folder.File("controller.toml"), Controller);
        await File.WriteAllTextAsync(folder.File("warm.toml"), WarmGrid);
        await using var bench = await Bench.StartAsync(folder.File("controller.toml"), speed: "40");
        await using var person = await bench.SensesAsync();
        await using (var trial = bench.Begin("silence-trial", "--set", "silence_seconds=130"))
        {
            Assert.True(await trial.ExitAsync() == 0, $"{trial.Output}\n{trial.Errors}");
        }

        await using (var run = bench.Begin(folder.File("warm.toml"), "--unattended", "--allow-heat", "60"))
        {
            Assert.True(await run.ExitAsync() == 0, $"{run.Output}\n{run.Errors}");
            Assert.Equal(PlacesOffClips, JsonEvents.Readings(run.Output).Select(reading => (reading.Item1, reading.Item2)).Distinct().Count());
            Assert.DoesNotContain("\"event\":\"prompt\"", run.Output, StringComparison.Ordinal);
        }

        Assert.Equal("off", await person.AskAsync("look heaters"));

        await using var tooLong = bench.Begin(folder.File("warm.toml"), "--unattended", "--allow-heat", "1");
        Assert.True(await tooLong.ExitAsync() == 3, $"{tooLong.Output}\n{tooLong.Errors}");
        Assert.Contains("as long as was allowed", tooLong.Output, StringComparison.Ordinal);
        Assert.Equal("off", await person.AskAsync("look heaters"));
    }
}
