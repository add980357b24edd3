using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Refusals;

/// <summary>Two consoles and one port.</summary>
public sealed class SharedPortTests
{
    [Fact]
    public async Task A_second_console_on_the_same_port_is_refused_and_the_first_goes_on()
    {
        await using var bench = await Bench.StartAsync();
        await using var first = bench.Begin("grid");
        await first.LineAsync(line => line.Contains("\"reading\"", StringComparison.Ordinal));

        await using var second = bench.Begin("grid");
        var refused = await second.ExitAsync();

        Assert.Equal(2, refused);
        Assert.Contains("in use", second.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("\"reading\"", second.Output, StringComparison.Ordinal);
        Assert.False(first.HasExited, first.Output);
        var taken = JsonEvents.Readings(first.Output).Count();
        await first.LineAsync(line => line.Contains("\"reading\"", StringComparison.Ordinal) && JsonEvents.Readings(first.Output).Count() > taken);
    }

    [Fact]
    public async Task A_second_console_sends_no_byte_whatever_it_calls_the_port_and_wherever_its_claims_lie()
    {
        await using var bench = await Bench.StartAsync(speed: "1");
        var alias = bench.File("alias");
        File.CreateSymbolicLink(alias, bench.Port);
        var elsewhere = new Dictionary<string, string> { ["XDG_RUNTIME_DIR"] = bench.File(".") };
        await using var first = bench.BeginWithoutPerson("preflight", bench.Port);
        await first.LineAsync(line => line.Contains("\"prompt\"", StringComparison.Ordinal));
        var received = bench.BytesReceived;

        foreach (var (port, environment) in new[] { (bench.Port, null), (alias, null), (bench.Port, elsewhere) })
        {
            await using var second = bench.BeginWithoutPerson("preflight", port, environment);
            Assert.Equal(2, await second.ExitAsync());
            Assert.Contains("in use", second.Errors, StringComparison.Ordinal);
        }

        Assert.NotEqual(0, received);
        Assert.Equal(received, bench.BytesReceived);
    }

    [Fact]
    public async Task A_second_console_is_kept_off_a_network_port_too()
    {
        await using var bench = await Bench.StartOnNetworkAsync(speed: "1");
        await using var first = bench.BeginWithoutPerson("preflight", bench.Port);
        await first.LineAsync(line => line.Contains("\"prompt\"", StringComparison.Ordinal));

        await using var second = bench.BeginWithoutPerson("preflight", bench.Port);

        Assert.Equal(2, await second.ExitAsync());
        Assert.Contains("in use", second.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_interrupt_stops_the_run_in_order()
    {
        await using var bench = await Bench.StartAsync();
        await using var run = bench.Begin("grid");
        await run.LineAsync(line => line.Contains("\"reading\"", StringComparison.Ordinal));

        using var kill = System.Diagnostics.Process.Start("kill", ["-INT", $"{run.Id}"]);
        var exitCode = await run.ExitAsync();

        var (wanted, state) = IgnoredSignals.Contains(IgnoredSignals.Interrupt) ? (0, "completed") : (4, "stopped");
        Assert.True(exitCode == wanted, $"{run.Output}\n{run.Errors}");
        var end = Assert.Single(JsonEvents.Named(run.Output, "run-ended"));
        Assert.Equal(state, end.GetProperty("state").GetString());
    }
}
