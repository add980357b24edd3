using System.Diagnostics;
using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Unattended;

/// <summary>A run followed and stopped from another terminal.</summary>
public sealed class FollowTests
{
    [Fact]
    public async Task A_run_is_followed_from_another_process_and_stopped_from_a_third()
    {
        await using var bench = await Bench.StartAsync(speed: "20");
        await using var run = bench.Begin("grid");
        var id = await Bench.RunIdAsync(run);
        await run.LineAsync(line => line.Contains("\"reading\"", StringComparison.Ordinal));
        await using var watching = ProgramProcess.Console(["watch", id, "--store", bench.Store, "--json"]);
        await watching.LineAsync(line => line.Contains("\"reading\"", StringComparison.Ordinal));

        var (asked, told, _) = await ProgramProcess.RunAsync("stop", id, "--store", bench.Store);

        Assert.Equal(0, asked);
        Assert.Contains("is stopping", told, StringComparison.Ordinal);
        Assert.Equal(4, await run.ExitAsync());
        Assert.Equal(4, await watching.ExitAsync());
        Assert.Equal(JsonEvents.Readings(run.Output), JsonEvents.Readings(watching.Output));
        var (again, _, why) = await ProgramProcess.RunAsync("stop", id, "--store", bench.Store);
        Assert.Equal(2, again);
        Assert.Contains("nothing to stop", why, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Watching_a_run_that_was_killed_says_that_nobody_works_on_it()
    {
        await using var bench = await Bench.StartAsync(speed: "20");
        await using var run = bench.Begin("grid");
        var id = await Bench.RunIdAsync(run);
        await run.LineAsync(line => line.Contains("\"reading\"", StringComparison.Ordinal));
        await run.KillAsync();

        var (exitCode, output, _) = await ProgramProcess.RunAsync("watch", id, "--store", bench.Store, "--json");

        Assert.Equal(3, exitCode);
        Assert.Contains("cut off", output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("-TERM")]
    [InlineData("-HUP")]
    public async Task A_signal_stops_a_run_in_order(string signal)
    {
        await using var bench = await Bench.StartAsync(speed: "50");
        await using var run = bench.Begin("grid");
        await run.LineAsync(line => line.Contains("\"reading\"", StringComparison.Ordinal));
        using (var kill = Process.Start("kill", [signal, $"{run.Id}"]))
        {
            await kill.WaitForExitAsync();
        }

        Assert.Equal(signal == "-HUP" && IgnoredSignals.Contains(IgnoredSignals.HangUp) ? 0 : 4, await run.ExitAsync());
    }

    [Fact]
    public async Task A_resumed_run_finds_its_port_without_being_told()
    {
        await using var bench = await Bench.StartAsync();
        await using var run = bench.Begin("grid", "--set", "grid.columns=6", "--set", "grid.rows=5");
        var id = await Bench.RunIdAsync(run);
        await run.LineAsync(line => line.Contains("\"reading\"", StringComparison.Ordinal));
        await run.KillAsync();

        await using var resumed = bench.ResumeWithoutPort(id);

        Assert.InRange(await resumed.ExitAsync(), 0, 1);
    }
}
