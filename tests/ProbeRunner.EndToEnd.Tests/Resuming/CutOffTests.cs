using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Resuming;

/// <summary>Runs that are cut off: by the cable, by the controller, by the death of the program.</summary>
public sealed class CutOffTests
{
    private static readonly string[] SmallGrid = ["--set", "grid.columns=6", "--set", "grid.rows=5", "--set", "grid.touches=1"];
    private const int SmallGridPlaces = 30;

    [Fact]
    public async Task A_pulled_cable_is_told_at_once_and_the_run_goes_on_when_it_is_plugged_in_again()
    {
        await using var bench = await Bench.StartAsync();
        await using var person = await bench.SensesAsync();
        string run;
        await using (var first = bench.Begin("grid", SmallGrid))
        {
            run = RunOf(await first.LineAsync(line => line.Contains("run-started", StringComparison.Ordinal)));
            await ReadingsSeenAsync(first, 20);
            await person.AskAsync("pull cable");
            var pulled = TimeProvider.System.GetTimestamp();
            await first.LineAsync(line => line.Contains("run-ended", StringComparison.Ordinal));
            Assert.InRange(TimeProvider.System.GetElapsedTime(pulled).TotalSeconds, 0, 2);
            Assert.Equal(3, await first.ExitAsync());
            Assert.Contains("cable", first.Output, StringComparison.OrdinalIgnoreCase);
        }

        await person.AskAsync("plug cable");
        await using var second = bench.Resume(run);
        var exitCode = await second.ExitAsync();

        Assert.True(exitCode is 0 or 1, $"{second.Output}\n{second.Errors}");
        await AssertEachPlaceOnceAsync(bench, run);
    }

    [Fact]
    public async Task A_reset_in_the_middle_of_a_move_stops_the_run_as_such()
    {
        await using var bench = await Bench.StartAsync(faults: "reset_at_motion=60");
        await using var run = bench.Begin("grid", SmallGrid);

        var exitCode = await run.ExitAsync();

        Assert.True(exitCode == 3, run.Output);
        var end = Assert.Single(JsonEvents.Named(run.Output, "run-ended"));
        Assert.Contains("restarted", end.GetProperty("why").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Killed_again_and_again_a_capture_ends_with_each_place_once_and_no_acknowledged_reading_lost()
    {
        const int Kills = 6;
        var chance = new Random(20261125);
        await using var bench = await Bench.StartAsync(speed: "20");
        var acknowledged = new HashSet<(double, double, double)>();
        string? run = null;
        for (var kill = 0; kill < Kills; kill++)
        {
            await using var session = run is null ? bench.Begin("grid") : bench.Resume(run);
            run ??= RunOf(await session.LineAsync(line => line.Contains("run-started", StringComparison.Ordinal)));
            await Task.WhenAny(session.ExitAsync(), Task.Delay(TimeSpan.FromMilliseconds(chance.Next(600, 2400)), TimeProvider.System));
            Assert.False(session.HasExited, $"The capture was over before kill {kill + 1}.\n{session.Output}\n{session.Errors}");
            await session.KillAsync();
            acknowledged.UnionWith(JsonEvents.Readings(session.Output));
        }

        await using var last = bench.Resume(run!);
        var exitCode = await last.ExitAsync();
        acknowledged.UnionWith(JsonEvents.Readings(last.Output));

        Assert.True(exitCode is 0 or 1, $"{last.Output}\n{last.Errors}");
        await AssertEachPlaceOnceAsync(bench, run!);
        var stored = (await bench.StoredReadingsAsync(run!)).ToHashSet();
        Assert.InRange(bench.TouchesDone.Count - stored.Count, 0, Kills); // by the printer's own count
        Assert.NotEmpty(acknowledged);
        Assert.All(acknowledged, reading => Assert.Contains(stored, line => StoredLine.Holds(line, reading)));
    }

    private static async Task AssertEachPlaceOnceAsync(Bench bench, string run)
    {
        var places = (await bench.StoredReadingsAsync(run)).Where(line => line.Contains("grid", StringComparison.Ordinal)).ToList();
        Assert.True(places.Count >= SmallGridPlaces, string.Join('\n', places));
        Assert.Equal(places.Count, places.Distinct().Count());
    }

    private static async Task ReadingsSeenAsync(ProgramProcess process, int atLeast)
    {
        var seen = 0;
        await process.LineAsync(line => line.Contains("\"reading\"", StringComparison.Ordinal) && ++seen >= atLeast);
    }

    private static string RunOf(string line) =>
        System.Text.Json.JsonDocument.Parse(line).RootElement.GetProperty("run").GetString()!;
}
