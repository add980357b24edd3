using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Unattended;

/// <summary>A warm capture with nobody there: allowed once the controller was shown to go cold by itself, and no longer than it was allowed.</summary>
public sealed class HeatedCaptureTests
{
    private const int PlacesOffClips = 14; // of 16: two lie on clips of this machine

    [Fact]
    public async Task A_warm_capture_alone_runs_where_it_may_ends_cold_and_never_goes_on_longer_than_it_was_allowed()
    {
        await using var bench = await Bench.StartAsync("goes-cold", speed: "40");
        await File.WriteAllTextAsync(bench.File("warm.toml"), WarmGrid.Script(4, "soak_minutes = 1\npause_bed_heater = true"));
        await using var person = await bench.SensesAsync();
        await using (var trial = bench.Begin("silence-trial", "--set", "silence_seconds=130"))
        {
            Assert.True(await trial.ExitAsync() == 0, $"{trial.Output}\n{trial.Errors}");
        }

        await using (var run = bench.Begin(bench.File("warm.toml"), "--unattended", "--allow-heat", "60"))
        {
            Assert.True(await run.ExitAsync() == 0, $"{run.Output}\n{run.Errors}");
            Assert.Equal(PlacesOffClips, JsonEvents.Readings(run.Output).Select(reading => (reading.Item1, reading.Item2)).Distinct().Count());
            Assert.DoesNotContain("\"event\":\"prompt\"", run.Output, StringComparison.Ordinal);
        }

        Assert.Equal("off", await person.AskAsync("look heaters"));

        await using var tooLong = bench.Begin(bench.File("warm.toml"), "--unattended", "--allow-heat", "1");
        Assert.True(await tooLong.ExitAsync() == 3, $"{tooLong.Output}\n{tooLong.Errors}");
        Assert.Contains("as long as was allowed", tooLong.Output, StringComparison.Ordinal);
        Assert.Equal("off", await person.AskAsync("look heaters"));
    }
}
