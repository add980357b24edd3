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
