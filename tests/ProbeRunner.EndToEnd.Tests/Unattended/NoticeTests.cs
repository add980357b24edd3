using System.Net;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;
using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Unattended;

/// <summary>Somebody who is not there is told; a local server stands for them.</summary>
public sealed class NoticeTests
{
    private static readonly string[] Small = ["--set", "grid.columns=6", "--set", "grid.rows=5", "--set", "grid.touches=1"];

    [Fact]
    public async Task The_end_of_a_run_is_posted_and_handed_to_the_command()
    {
        await using var bench = await Bench.StartAsync();
        using var server = new TcpListener(IPAddress.Loopback, 0);
        server.Start();
        var posted = AnswerOnceAsync(server, "204 No Content");
        var file = bench.File("notice.json");

        await using var run = bench.Begin("grid", [.. Small, "--notify-url", UrlOf(server), "--notify-command", $"cat > '{file}'"]);
        var exitCode = await run.ExitAsync();

        Assert.InRange(exitCode, 0, 1);
        foreach (var body in new[] { await posted, await File.ReadAllTextAsync(file) })
        {
            var notice = JsonDocument.Parse(body).RootElement;
            Assert.Equal("ended", notice.GetProperty("event").GetString());
            Assert.Equal("completed", notice.GetProperty("state").GetString());
            Assert.Equal(exitCode, notice.GetProperty("exitCode").GetInt32());
            Assert.Equal("wren-240", notice.GetProperty("machine").GetString());
        }
    }

    [Fact]
    public async Task A_notice_that_cannot_be_given_changes_nothing_about_the_run()
    {
        await using var bench = await Bench.StartAsync();
        using var silent = new TcpListener(IPAddress.Loopback, 0);
        silent.Start();

        await using var run = bench.Begin("grid", [.. Small, "--notify-url", UrlOf(silent), "--notify-command", "exit 7"]);

        Assert.InRange(await run.ExitAsync(), 0, 1);
        Assert.Contains("exit code 7", run.Errors, StringComparison.Ordinal);
        Assert.Contains("longer than 10 s", run.Errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("500 Internal Server Error", "echo no >&2; exit 1", "500")]
    [InlineData("301 Moved Permanently", "yes flood | head -c 20000000; exit 3", "301")]
    [InlineData(null, "no-such-program", "could not be given")]
    public async Task A_server_that_fails_or_closes_and_a_command_that_floods_or_is_not_there_change_nothing_about_the_run(string? status, string command, string said)
    {
        await using var bench = await Bench.StartAsync();
        using var server = new TcpListener(IPAddress.Loopback, 0);
        server.Start();
        var posted = status is null ? CloseOnceAsync(server) : AnswerOnceAsync(server, status);

        await using var run = bench.Begin("grid", [.. Small, "--notify-url", UrlOf(server), "--notify-command", command]);

        Assert.InRange(await run.ExitAsync(), 0, 1);
        await posted;
        Assert.Contains(said, run.Errors, StringComparison.Ordinal);
        Assert.Contains("by the command could not be given: it ended with exit code", run.Errors, StringComparison.Ordinal);
        Assert.Contains("The run is not affected", run.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_server_that_refuses_and_a_command_that_hangs_change_nothing_about_the_run()
    {
        await using var bench = await Bench.StartAsync();
        using var taken = new TcpListener(IPAddress.Loopback, 0);
        taken.Start();
        var nobody = UrlOf(taken);
        taken.Stop();

        await using var run = bench.Begin("grid", [.. Small, "--notify-url", nobody, "--notify-command", "sleep 300"]);

        Assert.InRange(await run.ExitAsync(), 0, 1);
        Assert.Contains($"to {nobody} could not be given", run.Errors, StringComparison.Ordinal);
        Assert.Contains("by the command could not be given: it took longer than 10 s", run.Errors, StringComparison.Ordinal);
    }

    private static async Task CloseOnceAsync(TcpListener server)
    {
        using var client = await server.AcceptTcpClientAsync();
        client.LingerState = new LingerOption(true, 0);
    }

    private static string UrlOf(TcpListener server) => $"http://{server.LocalEndpoint}/notices";

    private static async Task<string> AnswerOnceAsync(TcpListener server, string status)
    {
        using var client = await server.AcceptTcpClientAsync();
        await using var stream = client.GetStream();
        var buffer = new byte[65_536];
        var text = "";
        while (!IsWhole(text))
        {
            text += Encoding.UTF8.GetString(buffer, 0, await stream.ReadAsync(buffer));
        }

        await stream.WriteAsync(Encoding.ASCII.GetBytes($"HTTP/1.1 {status}\r\nConnection: close\r\n\r\n"));
        return text[(text.IndexOf("\r\n\r\n", StringComparison.Ordinal) + 4)..];
    }

    private static bool IsWhole(string text)
    {
        var end = text.IndexOf("\r\n\r\n", StringComparison.Ordinal);
        var length = text.Split("\r\n").FirstOrDefault(line => line.StartsWith("Content-Length:", StringComparison.OrdinalIgnoreCase));
        return end > 0 && length is not null && Encoding.UTF8.GetByteCount(text[(end + 4)..]) >= int.Parse(length[15..], System.Globalization.CultureInfo.InvariantCulture);
    }
}
