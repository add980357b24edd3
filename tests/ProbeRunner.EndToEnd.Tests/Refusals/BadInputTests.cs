using System.Net;
using System.Net.Sockets;
using ProbeRunner.EndToEnd.Tests.Architecture;
using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Refusals;

/// <summary>Wrong use and bad input: one clear message, exit code 2, nothing moved.</summary>
public sealed class BadInputTests : IDisposable
{
    private const int BadInput = 2;
    private readonly TemporaryFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task A_machine_that_is_not_there_is_named_with_those_that_are()
    {
        var (exitCode, _, errors) = await RunAsync("run", "commission", "--machine", "wren-24", "--simulate");

        Assert.Equal(BadInput, exitCode);
        Assert.Contains("did you mean wren-240?", errors, StringComparison.Ordinal);
        Assert.Contains("heron-330", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_profile_with_a_misspelt_key_is_refused_with_line_column_and_the_nearest_key()
    {
        var wrong = folder.File("mine.toml");
        var profile = Path.Combine(SourceTree.Root, "profiles", "machines", "wren-240.toml");
        await File.WriteAllTextAsync(wrong, (await File.ReadAllTextAsync(profile)).Replace("baud", "buad", StringComparison.Ordinal));

        var (exitCode, _, errors) = await RunAsync("run", "commission", "--machine", wrong, "--simulate");

        Assert.Equal(BadInput, exitCode);
        Assert.Matches(@"mine\.toml:\d+:\d+: .*buad", errors);
        Assert.Contains("baud", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_port_that_is_not_there_is_said_so()
    {
        var missing = folder.File("no-such-port");

        var (exitCode, _, errors) = await RunAsync("run", "commission", "--machine", "wren-240", "--port", missing);

        Assert.Equal(BadInput, exitCode);
        Assert.Contains(missing, errors, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_network_port_nobody_listens_at_is_said_so()
    {
        using var taken = new TcpListener(IPAddress.Loopback, 0);
        taken.Start();
        var port = ((IPEndPoint)taken.LocalEndpoint).Port;
        taken.Stop();

        var (exitCode, _, errors) = await RunAsync("run", "commission", "--machine", "wren-240", "--port", $"tcp://127.0.0.1:{port}");

        Assert.Equal(BadInput, exitCode);
        Assert.Contains("127.0.0.1", errors, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("series.touches=many")]
    [InlineData("series.confidence=2")]
    [InlineData("nonsense")]
    public async Task An_impossible_parameter_is_refused_before_anything_moves(string parameter)
    {
        var (exitCode, output, errors) = await RunAsync("run", "commission", "--machine", "wren-240", "--simulate", "--set", parameter);

        Assert.Equal(BadInput, exitCode);
        Assert.NotEmpty(errors);
        Assert.DoesNotContain("reading", output, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("step = ")]
    [InlineData("[[step]]\ndo = \"fly\"")]
    [InlineData("title = \"x\"\n[[step]]\ndo = \"grid\"\ncolumns = -3")]
    public async Task A_broken_run_script_is_refused(string text)
    {
        var script = folder.File("script.toml");
        await File.WriteAllTextAsync(script, text);

        var (exitCode, _, errors) = await RunAsync("run", script, "--machine", "wren-240", "--simulate");

        Assert.Equal(BadInput, exitCode);
        Assert.Contains("script.toml", errors, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("fly")]
    [InlineData("run", "commission")]
    [InlineData("run", "commission", "--machine", "wren-240")]
    [InlineData("run", "commission", "--machine", "wren-240", "--port", "x", "--simulate")]
    [InlineData("show", "20200101-0000-zzz")]
    [InlineData("resume", "20200101-0000-zzz", "--port", "/dev/null")]
    [InlineData("demo", "--scenario", "no-such-scenario")]
    [InlineData("demo", "--speed", "0")]
    public async Task Wrong_use_is_answered_with_a_sentence(params string[] arguments)
    {
        var (exitCode, _, errors) = await RunAsync(arguments);

        Assert.Equal(BadInput, exitCode);
        Assert.NotEmpty(errors);
        Assert.DoesNotContain("   at ", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_unattended_run_of_a_script_that_needs_a_person_is_refused()
    {
        var (exitCode, _, errors) = await RunAsync("run", "commission", "--machine", "wren-240", "--simulate", "--unattended");

        Assert.Equal(BadInput, exitCode);
        Assert.Contains("person", errors, StringComparison.Ordinal);
    }

    private async Task<(int ExitCode, string Output, string Errors)> RunAsync(params string[] arguments)
    {
        string[] store = arguments[0] is "fly" ? [] : ["--store", folder.File("runs.db")];
        return await ProgramProcess.RunAsync([.. arguments, .. store]);
    }
}
