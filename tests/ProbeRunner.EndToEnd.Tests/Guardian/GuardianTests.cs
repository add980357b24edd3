using System.Diagnostics;
using ProbeRunner.EndToEnd.Tests.Harness;
using ProbeRunner.SimulatedPrinter.Senses;

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
            await HotAsync(person);
            await Task.Delay(TimeSpan.FromMilliseconds(chance.Next(0, 800)), TimeProvider.System);
            await run.KillAsync();

            Assert.InRange(await UntilOffAsync(person), TimeSpan.Zero, TimeSpan.FromSeconds(2));
        }

        Assert.Contains("confirmed", await TextOfAsync(bench.Store + "-guardian.log"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Hanging_with_the_heaters_on_the_program_is_ended_and_they_are_off_within_ten_seconds()
    {
        await using var bench = await Bench.StartAsync(speed: "1");
        await using var person = await bench.SensesAsync();
        await using var run = bench.Begin("silence-trial");
        await HotAsync(person);
        await SignalAsync("-STOP", run.Id);

        Assert.InRange(await UntilOffAsync(person), TimeSpan.FromSeconds(1), TimeSpan.FromSeconds(10));
        Assert.Equal(128 + 9, await run.ExitAsync());
        Assert.Contains("no sign of life", run.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Ended_in_order_the_guardian_leaves_without_a_word()
    {
        await using var bench = await Bench.StartAsync(speed: "1");
        await using var person = await bench.SensesAsync();
        await using var run = bench.Begin("silence-trial", "--set", "silence_seconds=10");
        await HotAsync(person);

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
        await HotAsync(person);
        await SignalAsync("-TERM", run.Id);

        Assert.InRange(await UntilOffAsync(person), TimeSpan.Zero, TimeSpan.FromSeconds(1));
        Assert.Equal(4, await run.ExitAsync());
    }

    [Fact]
    public async Task Killed_guardian_means_that_the_run_stops()
    {
        await using var bench = await Bench.StartAsync(speed: "1");
        await using var person = await bench.SensesAsync();
        await using var run = bench.Begin("silence-trial");
        await HotAsync(person);
        using (var kill = Process.Start("pkill", ["-KILL", "-P", $"{run.Id}", "-f", "guard-heaters"]))
        {
            await kill.WaitForExitAsync();
        }

        Assert.Equal(3, await run.ExitAsync());
        Assert.Contains("guardian", run.Output, StringComparison.Ordinal);
        Assert.Equal("off", await person.AskAsync("look heaters"));
    }

    private static async Task HotAsync(SensesClient person)
    {
        var began = TimeProvider.System.GetTimestamp();
        while (await person.AskAsync("look heaters") != "both")
        {
            Assert.True(TimeProvider.System.GetElapsedTime(began) < TimeSpan.FromSeconds(30), "The heaters never went on.");
            await Task.Delay(TimeSpan.FromMilliseconds(20), TimeProvider.System);
        }
    }

    private static async Task<TimeSpan> UntilOffAsync(SensesClient person)
    {
        var began = TimeProvider.System.GetTimestamp();
        while (await person.AskAsync("look heaters") != "off")
        {
            Assert.True(TimeProvider.System.GetElapsedTime(began) < TimeSpan.FromSeconds(30), "The heaters stayed on.");
            await Task.Delay(TimeSpan.FromMilliseconds(10), TimeProvider.System);
        }

        return TimeProvider.System.GetElapsedTime(began);
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

    private static async Task SignalAsync(string signal, int process)
    {
        using var kill = Process.Start("kill", [signal, $"{process}"]);
        await kill.WaitForExitAsync();
    }
}
