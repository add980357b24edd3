using ProbeRunner.Console.Commands;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Console.Tests.Commands;

/// <summary>A run whose first row, what it was started with, is not what was written: every command says so and does nothing.</summary>
public sealed class DamagedHeaderTests : IDisposable
{
    private const string Run = "20261125-0830-kqv";
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("damaged-header-");

    public void Dispose() => folder.Delete(recursive: true);

    [Theory]
    [InlineData("show", Run)]
    [InlineData("report", Run, "-o", "report.html")]
    [InlineData("export", Run, "-o", "export")]
    [InlineData("resume", Run, "--port", "/dev/null")]
    [InlineData("restore", Run, "--port", "/dev/null")]
    [InlineData("watch", Run)]
    [InlineData("compare", Run, Run)]
    [InlineData("pattern", "--machine", "wren-240", "--from", Run, "-o", "pattern.txt")]
    public async Task It_is_said_by_every_command_that_needs_it_with_what_to_do(params string[] arguments)
    {
        var (exitCode, output, errors) = await OnDamagedStoreAsync(arguments);

        Assert.Equal(2, exitCode);
        Assert.Empty(output);
        Assert.Contains($"The record of run {Run} is damaged where it begins", errors, StringComparison.Ordinal);
        Assert.Contains("start a new run in another store", errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task It_is_listed_as_damaged()
    {
        var (exitCode, output, _) = await OnDamagedStoreAsync("runs");

        Assert.Equal(0, exitCode);
        Assert.Matches($"{Run}.*damaged", output);
    }

    [Fact]
    public async Task A_trend_says_that_it_was_left_out()
    {
        var (exitCode, _, errors) = await OnDamagedStoreAsync("trend", "wren-240");

        Assert.Equal(2, exitCode);
        Assert.Contains($"Run {Run} is damaged and left out", errors, StringComparison.Ordinal);
    }

    private async Task<(int ExitCode, string Output, string Errors)> OnDamagedStoreAsync(params string[] arguments)
    {
        var store = Path.Combine(folder.FullName, "runs.db");
        var header = new RunHeader(Run, "wren-240", "grid", "script", "profile", "dialect", "port", "", DateTimeOffset.UnixEpoch, 7, "0.1.0");
        RunStore.Open(store).Create(header).Dispose();
        var bytes = await File.ReadAllBytesAsync(store);
        bytes[bytes.AsSpan().LastIndexOf("wren-240"u8)] ^= 1;
        await File.WriteAllBytesAsync(store, bytes);

        using StringWriter output = new(), errors = new();
        var context = new ProgramContext(output, errors, TextReader.Null, TimeProvider.System, _ => null, AppContext.BaseDirectory, InputIsTerminal: false);
        string[] given = [.. arguments.Select((argument, index) => index > 0 && arguments[index - 1] == "-o" ? Path.Combine(folder.FullName, argument) : argument)];
        return (await CommandTree.RunAsync([.. given, "--store", store], context), output.ToString(), errors.ToString());
    }
}
