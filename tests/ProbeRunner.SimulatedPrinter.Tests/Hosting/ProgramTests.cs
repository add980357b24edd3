using System.Diagnostics;
using System.Text;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Senses;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.SimulatedPrinter.Tests.Hosting;

/// <summary>The program as a client sees it: in this process, over a real pseudo-terminal, real sockets, and real time made fast.</summary>
public class ProgramTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    [Fact]
    public async Task Over_a_real_pseudo_terminal_it_homes_touches_and_its_person_feels()
    {
        using var folder = new TemporaryFolder();
        var (path, senses) = (folder.File("port"), folder.File("senses"));
        var running = await RunningProgram.StartAsync("--pty", path, "--senses", senses, "--speed", "500", "--seed", "5");
        Assert.Equal($"ready port={path} senses={senses} scenario=good seed=5 speed=500", running.Ready);

        await using (var client = await SensesClient.ConnectAsync(senses))
        {
            await using (var link = await OpenAsync(path))
            {
                Assert.Contains("ok", await AskAsync(link, "G28"), StringComparison.Ordinal);
                Assert.Contains("Bed touched at", await AskAsync(link, "G30 X100 Y100"), StringComparison.Ordinal);
            }

            await using (var again = await OpenAsync(path))
            {
                Assert.Contains("Steps", await AskAsync(again, "M114"), StringComparison.Ordinal);
            }

            Assert.Equal("ok", await client.AskAsync("paper in"));
            Assert.Equal("free", await client.AskAsync("feel"));
            Assert.StartsWith("?", await client.AskAsync("height"), StringComparison.Ordinal);
            Assert.Equal("ok", await client.AskAsync("quit"));
        }

        Assert.Equal(0, await running.Ended);
        Assert.False(File.Exists(path));
    }

    [Fact]
    public async Task A_pulled_cable_hangs_up_the_terminal_and_plugged_in_again_the_path_leads_to_the_same_machine()
    {
        using var folder = new TemporaryFolder();
        var (path, senses) = (folder.File("port"), folder.File("senses"));
        var running = await RunningProgram.StartAsync("--pty", path, "--senses", senses, "--speed", "500");
        await using var client = await SensesClient.ConnectAsync(senses);
        await using (var link = await OpenAsync(path))
        {
            await AskAsync(link, "M851 Z-1.234");
            Assert.Equal("ok", await client.AskAsync("pull cable"));
            await Assert.ThrowsAsync<LinkLostException>(() => AskAsync(link, "M114"));
        }

        Assert.False(File.Exists(path));
        Assert.Equal("ok", await client.AskAsync("plug cable"));
        await using (var link = await OpenAsync(path))
        {
            Assert.Contains("Z-1.234", await AskAsync(link, "M851"), StringComparison.Ordinal);
        }

        await client.AskAsync("quit");
        Assert.Equal(0, await running.Ended);
    }

    [Fact]
    public async Task Over_tcp_one_client_at_a_time_is_served_and_a_pulled_cable_turns_all_away()
    {
        var running = await RunningProgram.StartAsync("--tcp", "0", "--senses", "0", "--speed", "500");
        var address = running.Field("port");
        await using var client = await SensesClient.ConnectAsync(running.Field("senses"));
        await using (var link = await OpenAsync(address))
        {
            Assert.Contains("ok", await AskAsync(link, "G28 X"), StringComparison.Ordinal);
            using var otherClaims = new TemporaryFolder(); // as on another computer; on this one the second console is not let so far
            await using var second = await OpenAsync(address, otherClaims.File("."));
            await Assert.ThrowsAsync<LinkLostException>(() => AskAsync(second, "M114"));
            await client.AskAsync("pull cable");
            await Assert.ThrowsAsync<LinkLostException>(() => AskAsync(link, "M114"));
        }

        await using (var refused = await OpenAsync(address))
        {
            await Assert.ThrowsAsync<LinkLostException>(() => AskAsync(refused, "M114"));
        }

        await client.AskAsync("plug cable");
        await using (var link = await OpenAsync(address))
        {
            Assert.Contains("X:", await AskAsync(link, "M114"), StringComparison.Ordinal);
        }

        await client.AskAsync("quit");
        Assert.Equal(0, await running.Ended);
    }

    [Fact]
    public async Task Its_log_holds_every_byte_and_every_touch()
    {
        using var folder = new TemporaryFolder();
        var (path, log) = (folder.File("port"), folder.File("log"));
        var running = await RunningProgram.StartAsync("--pty", path, "--senses", folder.File("senses"), "--speed", "500", "--log", log);
        await using (var link = await OpenAsync(path))
        {
            await AskAsync(link, "G28");
            await AskAsync(link, "G30 X100 Y100");
        }

        await using (var client = await SensesClient.ConnectAsync(folder.File("senses")))
        {
            await client.AskAsync("power cycle");
            await client.AskAsync("quit");
        }

        Assert.Equal(0, await running.Ended);
        var lines = await File.ReadAllLinesAsync(log);
        Assert.Equal("G28\nG30 X100 Y100\n".Length, lines.Where(line => line.StartsWith("received", StringComparison.Ordinal)).Sum(line => int.Parse(line.Split(' ')[1], System.Globalization.CultureInfo.InvariantCulture)));
        Assert.Single(lines, line => line.StartsWith("touch", StringComparison.Ordinal));
        Assert.Contains(lines, line => line.StartsWith("homing-touch", StringComparison.Ordinal));
        Assert.Single(lines, line => line == "restart");
    }

    [Fact]
    public async Task It_ends_when_its_input_ends_if_told_so()
    {
        var running = await RunningProgram.StartAsync("--tcp", "0", "--until-input-ends");
        Assert.Equal(0, await running.Ended);
    }

    [Theory]
    [InlineData("Give one of --pty PATH and --tcp PORT.")]
    [InlineData("there is no such scenario", "--tcp", "0", "--scenario", "goood")]
    [InlineData("unknown key bad_bytes", "--tcp", "0", "--faults", "bad_bytes=0.1")]
    [InlineData("speed must be", "--tcp", "0", "--speed", "-1")]
    [InlineData("'--prot'", "--prot", "x")]
    public async Task Wrong_use_is_explained_and_ends_with_code_two(string expected, params string[] arguments)
    {
        using var errors = new StringWriter();
        Assert.Equal(2, await SimulatorProgram.RunAsync(arguments, TextReader.Null, TextWriter.Null, errors));
        Assert.Contains(expected, errors.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task As_a_process_of_its_own_it_ends_cleanly_on_a_termination_signal()
    {
        using var folder = new TemporaryFolder();
        var path = folder.File("port");
        using var process = Process.Start(new ProcessStartInfo(
            "dotnet", [typeof(SimulatedPrinterHost).Assembly.Location, "--pty", path])
        { RedirectStandardOutput = true })!;
        Assert.StartsWith("ready", await process.StandardOutput.ReadLineAsync().WaitAsync(Patience), StringComparison.Ordinal);
        using (Process.Start("kill", ["-TERM", process.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]))
        {
            await process.WaitForExitAsync().WaitAsync(Patience);
        }

        Assert.Equal(0, process.ExitCode);
        Assert.False(File.Exists(path));
    }

    private static async Task<ILink> OpenAsync(string address, string? claims = null) =>
        await LinkFactory.OpenAsync(LinkAddress.Parse(address), new LinkOptions { ClaimFolder = claims }, TimeProvider.System, CancellationToken.None);

    private static async Task<string> AskAsync(ILink link, string line)
    {
        using var deadline = new CancellationTokenSource(Patience);
        await link.WriteAsync(Encoding.ASCII.GetBytes(line + "\n"), deadline.Token);
        var received = new StringBuilder();
        var buffer = new byte[256];
        while (true)
        {
            var count = await link.ReadAsync(buffer, deadline.Token);
            received.Append(Encoding.ASCII.GetString(buffer, 0, count));
            var text = received.ToString();
            if (text.EndsWith('\n') && text.Split('\n').Any(part => part.StartsWith("ok", StringComparison.Ordinal)))
            {
                return text;
            }
        }
    }

    private sealed record RunningProgram(string Ready, Task<int> Ended)
    {
        public static async Task<RunningProgram> StartAsync(params string[] arguments)
        {
            var output = new FirstLine();
            var ended = SimulatorProgram.RunAsync(arguments, TextReader.Null, output, TextWriter.Null);
            await Task.WhenAny(output.Line, ended).WaitAsync(Patience);
            return new RunningProgram(await output.Line.WaitAsync(Patience), ended.WaitAsync(Patience));
        }

        public string Field(string name) =>
            Ready.Split(' ').Single(part => part.StartsWith(name + "=", StringComparison.Ordinal))[(name.Length + 1)..];
    }

    private sealed class FirstLine : TextWriter
    {
        private readonly TaskCompletionSource<string> _line = new(TaskCreationOptions.RunContinuationsAsynchronously);

        public Task<string> Line => _line.Task;

        public override Encoding Encoding => Encoding.UTF8;

        public override Task WriteLineAsync(string? value)
        {
            _line.TrySetResult(value ?? "");
            return Task.CompletedTask;
        }
    }

    private sealed class TemporaryFolder : IDisposable
    {
        private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("simulated");

        public string File(string name) => Path.Combine(_folder.FullName, name);

        public void Dispose() => _folder.Delete(recursive: true);
    }
}
