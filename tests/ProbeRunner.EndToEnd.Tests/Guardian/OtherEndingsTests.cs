using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Guardian;

/// <summary>Other ways in which a run that heats may end; real processes, nothing faster than real.</summary>
public sealed class OtherEndingsTests
{
    [Theory]
    [InlineData("-HUP", IgnoredSignals.HangUp)]
    [InlineData("-INT", IgnoredSignals.Interrupt)]
    public async Task A_hang_up_or_an_interrupt_switches_the_heaters_off_within_a_second(string signal, int number)
    {
        await using var bench = await Bench.StartAsync(speed: "1");
        await using var person = await bench.SensesAsync();
        await using var run = bench.Begin("silence-trial");
        await Heaters.HotAsync(person);
        await Heaters.SignalAsync(IgnoredSignals.Contains(number) ? "-TERM" : signal, run.Id);

        Assert.InRange(await Heaters.UntilOffAsync(person), TimeSpan.Zero, TimeSpan.FromSeconds(1));
        Assert.True(await run.ExitAsync() == 4, $"{run.Output}\n{run.Errors}");
    }

    [Fact]
    public async Task Ctrl_Z_does_not_pause_a_run_and_says_why()
    {
        await using var bench = await Bench.StartAsync(speed: "1");
        await using var person = await bench.SensesAsync();
        await using var run = bench.Begin("silence-trial");
        await Heaters.HotAsync(person);
        await Heaters.SignalAsync("-TSTP", run.Id);
        await run.LineAsync(line => line.Contains("Not paused", StringComparison.Ordinal));

        await Heaters.SignalAsync("-TERM", run.Id);

        Assert.InRange(await Heaters.UntilOffAsync(person), TimeSpan.Zero, TimeSpan.FromSeconds(1));
        Assert.Equal(4, await run.ExitAsync());
    }

    [Fact]
    public async Task Killed_over_the_network_too_the_heaters_are_off_within_two_seconds()
    {
        await using var bench = await Bench.StartOnNetworkAsync(speed: "1");
        await using var person = await bench.SensesAsync();
        for (var kill = 0; kill < 3; kill++)
        {
            await using var run = bench.Begin("silence-trial");
            await Heaters.HotAsync(person);
            await run.KillAsync();

            Assert.InRange(await Heaters.UntilOffAsync(person), TimeSpan.Zero, TimeSpan.FromSeconds(2));
        }
    }

    /// <summary>The guardian inherits the connection: whoever opened another would restart the controller, and be deaf to it for seconds.</summary>
    [Fact]
    public async Task Where_opening_the_port_restarts_the_controller_the_guardian_opens_nothing_and_the_run_can_be_taken_up_again()
    {
        using var folder = new TemporaryFolder();
        await File.WriteAllTextAsync(folder.File("restarts.toml"), "title = \"Restarts when its port is opened\"\nmachine = \"wren-240\"\nseed = 11\n[controller]\nresets_on_open = true\n");
        await using var bench = await Bench.StartOnNetworkAsync("1", folder.File("restarts.toml"));
        await using var person = await bench.SensesAsync();
        await using var run = bench.Begin("silence-trial");
        var id = await Bench.RunIdAsync(run);
        await Heaters.HotAsync(person);
        await run.KillAsync();

        Assert.InRange(await Heaters.UntilOffAsync(person), TimeSpan.Zero, TimeSpan.FromSeconds(2));
        Assert.Equal(1, bench.Restarts);
        await using var resumed = bench.Resume(id);
        await Heaters.HotAsync(person);
        Assert.Equal(2, bench.Restarts);
        await Heaters.SignalAsync("-TERM", resumed.Id);
        Assert.Equal(4, await resumed.ExitAsync());
    }

    /// <summary>Why unattended heat asks for a controller that was shown to switch its heaters off in silence: nothing else is left then.</summary>
    [Fact]
    public async Task With_the_guardian_killed_too_the_controllers_own_limit_is_what_switches_the_heaters_off()
    {
        await using var bench = await Bench.StartAsync("goes-cold", speed: "20");
        await using var person = await bench.SensesAsync();
        await using var run = bench.Begin("silence-trial", "--set", "silence_seconds=1800");
        await Heaters.HotAsync(person);
        await Heaters.SignalAsync("-KILL", run.Id, await Heaters.GuardianOfAsync(run.Id));

        Assert.InRange(await Heaters.UntilOffAsync(person), TimeSpan.FromSeconds(1), TimeSpan.FromSeconds(20));
        Assert.False(File.Exists(bench.Store + "-guardian.log"));
    }
}
