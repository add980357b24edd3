using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Guardian;

/// <summary>The program dies or hangs with the heaters on; real processes over a pseudo-terminal, nothing faster than real.</summary>
public sealed class GuardianTests
{
    [Fact]
    public async Task Killed_at_random_moments_with_the_heaters_on_they_are_off_within_two_seconds()
    {
        var chance = new Random(20261125);
        await using var bench = await Bench.StartAsync(speed: "1");
        await using var person = await bench.SensesAsync();
        for (var kill = 0; kill < 5; kill++)
        {
            await using var run = bench.Begin("silence-trial");
            await Heaters.HotAsync(person);
            await Task.Delay(TimeSpan.FromMilliseconds(chance.Next(0, 800)), TimeProvider.System);
            await run.KillAsync();

            Assert.InRange(await Heaters.UntilOffAsync(person), TimeSpan.Zero, TimeSpan.FromSeconds(2));
        }

        Assert.Contains("confirmed", await TextOfAsync(bench.Store + "-guardian.log"), StringComparison.Ordinal);
    }

    /// <summary>The same at 25 moments of a warm capture that is resumed each time; the campaign <c>kills</c> does it 1,000 times.</summary>
    [Fact]
    public async Task Killed_at_25_moments_of_a_warm_capture_the_heaters_go_off_within_two_seconds_and_no_reading_is_lost_or_doubled()
    {
        const int Kills = 25;
        var chance = new Random(20261125);
        await using var bench = await Bench.StartAsync(speed: "40");
        await using var person = await bench.SensesAsync();
        await File.WriteAllTextAsync(bench.File("warm.toml"), WarmGrid.Script(30));
        var acknowledged = new HashSet<(double, double, double)>();
        string? run = null;
        for (var kill = 0; kill < Kills; kill++)
        {
            await using var session = run is null ? bench.Begin(bench.File("warm.toml")) : bench.Resume(run);
            run ??= await Bench.RunIdAsync(session);
            await Heaters.HotAsync(person, "bed");
            if (kill % 3 == 2)
            {
                // A slow computer's first second is over before the first touch: some kills have to be among the readings.
                await session.LineAsync(line => line.Contains("\"reading\"", StringComparison.Ordinal));
            }

            await Task.Delay(TimeSpan.FromMilliseconds(chance.Next(0, 1500)), TimeProvider.System);
            Assert.False(session.HasExited, $"The capture was over before kill {kill + 1}.\n{session.Output}\n{session.Errors}");
            await session.KillAsync();
            Assert.InRange(await Heaters.UntilOffAsync(person), TimeSpan.Zero, TimeSpan.FromSeconds(2));
            acknowledged.UnionWith(JsonEvents.Readings(session.Output));
        }

        var stored = await bench.StoredReadingsAsync(run!);
        Assert.Equal(stored.Count, stored.Distinct().Count());
        Assert.InRange(bench.TouchesDone.Count - stored.Count, 0, Kills); // by the printer's own count: a touch that a kill cut off is repeated, no other
        Assert.NotEmpty(acknowledged);
        Assert.All(acknowledged, reading => Assert.Contains(stored, line => StoredLine.Holds(line, reading)));
    }

    [Fact]
    public async Task Hanging_with_the_heaters_on_the_program_is_ended_and_they_are_off_within_ten_seconds()
    {
        await using var bench = await Bench.StartAsync(speed: "1");
        await using var person = await bench.SensesAsync();
        await using var run = bench.Begin("silence-trial");
        await Heaters.HotAsync(person);
        await Heaters.SignalAsync("-STOP", run.Id);

        Assert.InRange(await Heaters.UntilOffAsync(person), TimeSpan.FromSeconds(1), TimeSpan.FromSeconds(10));
        Assert.Equal(128 + 9, await run.ExitAsync());
        Assert.Contains("no sign of life", run.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Ended_in_order_the_guardian_leaves_without_a_word()
    {
        await using var bench = await Bench.StartAsync(speed: "1");
        await using var person = await bench.SensesAsync();
        await using var run = bench.Begin("silence-trial", "--set", "silence_seconds=10");
        await Heaters.HotAsync(person);

        Assert.Equal(1, await run.ExitAsync()); // this controller keeps its heaters on: not fit
        Assert.Equal("off", await person.AskAsync("look heaters"));
        Assert.False(File.Exists(bench.Store + "-guardian.log"));
    }

    [Fact]
    public async Task A_signal_to_end_switches_the_heaters_off_within_a_second()
    {
        await using var bench = await Bench.StartAsync(speed: "1");
        await using var person = await bench.SensesAsync();
        await using var run = bench.Begin("silence-trial");
        await Heaters.HotAsync(person);
        await Heaters.SignalAsync("-TERM", run.Id);

        Assert.InRange(await Heaters.UntilOffAsync(person), TimeSpan.Zero, TimeSpan.FromSeconds(1));
        Assert.Equal(4, await run.ExitAsync());
    }

    [Fact]
    public async Task Killed_guardian_means_that_the_run_stops()
    {
        await using var bench = await Bench.StartAsync(speed: "1");
        await using var person = await bench.SensesAsync();
        await using var run = bench.Begin("silence-trial");
        await Heaters.HotAsync(person);
        await Heaters.SignalAsync("-KILL", await Heaters.GuardianOfAsync(run.Id));

        Assert.Equal(3, await run.ExitAsync());
        Assert.Contains("guardian", run.Output, StringComparison.Ordinal);
        Assert.Equal("off", await person.AskAsync("look heaters"));
    }

    private static async Task<string> TextOfAsync(string file)
    {
        var began = TimeProvider.System.GetTimestamp();
        while (!File.Exists(file))
        {
            Assert.True(TimeProvider.System.GetElapsedTime(began) < ProgramProcess.Patience, "The guardian wrote nothing down.");
            await Task.Delay(TimeSpan.FromMilliseconds(20), TimeProvider.System);
        }

        return await File.ReadAllTextAsync(file);
    }
}
