using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Tuning;

/// <summary>A bed checked on another day, over the wire.</summary>
public sealed class CheckAgainTests
{
    [Fact]
    public async Task Check_again_takes_the_last_capture_from_the_store_and_finds_the_screw_that_was_turned()
    {
        await using var bench = await Bench.StartAsync(speed: "300");
        await using (var without = bench.Begin("check-again"))
        {
            Assert.Equal(2, await without.ExitAsync());
            Assert.Contains("no sound capture", without.Errors, StringComparison.Ordinal);
        }

        await using var capture = bench.Begin("grid", "--set", "columns=5", "--set", "rows=5", "--set", "touches=1");
        Assert.True(await capture.ExitAsync() == 0, capture.Errors);
        await using (var senses = await bench.SensesAsync())
        {
            Assert.Equal("ok", await senses.AskAsync("turn screw back right 0.4", default));
        }

        await using var check = bench.Begin("check-again", "--set", "columns=4", "--set", "rows=4");
        var exitCode = await check.ExitAsync();

        Assert.True(exitCode == 1, $"{check.Output}\n{check.Errors}");
        Assert.Contains(JsonEvents.Named(check.Output, "finding"), told => told.GetProperty("id").GetString() == "check-again.corner-moved");
    }
}
