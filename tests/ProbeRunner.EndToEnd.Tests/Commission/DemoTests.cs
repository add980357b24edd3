using System.Text.Json;
using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Commission;

/// <summary>The whole calibration by one command: program and simulated printer as processes of their own, a pseudo-terminal between them.</summary>
public sealed class DemoTests : IDisposable
{
    private readonly TemporaryFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task The_demo_ends_fit_and_leaves_a_run_and_a_report()
    {
        var (exitCode, output, errors) = await DemoAsync("good");

        Assert.True(exitCode == 0, $"{output}\n{errors}");
        var report = Assert.Single(Directory.GetFiles(folder.File("out"), "*.html"));
        var page = await File.ReadAllTextAsync(report);
        Assert.Contains("<svg", page, StringComparison.Ordinal);
        Assert.DoesNotContain("http://", page.Replace("http://www.w3.org", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains(report, output, StringComparison.Ordinal);
        Assert.Contains(folder.File("runs.db"), output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_loose_probe_ends_not_fit_with_nothing_stored()
    {
        var (exitCode, output, errors) = await DemoAsync("loose-probe", "--json");

        Assert.True(exitCode == 1, $"{output}\n{errors}");
        var events = output.Split('\n').Select(line => JsonDocument.Parse(line).RootElement).ToList();
        Assert.Contains(events, told => Is(told, "verdict") && told.GetProperty("state").GetString() == "notFit");
        Assert.DoesNotContain(events, told => Is(told, "changed") && told.GetProperty("setting").GetString()!.Contains("offset", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Under_a_culture_with_decimal_commas_the_same_numbers_are_written()
    {
        var plain = await JsonReadingsAsync(new Dictionary<string, string>());
        var german = await JsonReadingsAsync(new Dictionary<string, string> { ["LANG"] = "de_DE.UTF-8", ["LC_ALL"] = "de_DE.UTF-8" });

        Assert.NotEmpty(plain);
        Assert.Equal(plain, german);
    }

    private static bool Is(JsonElement told, string name) => told.GetProperty("event").GetString() == name;

    private async Task<(int ExitCode, string Output, string Errors)> DemoAsync(string scenario, params string[] more) =>
        await ProgramProcess.RunAsync(
            ["demo", "--scenario", scenario, "--speed", "100", "--store", folder.File("runs.db"), "--out", folder.File("out"), .. more]);

    /// <summary>The paper test is cold here: how long a bed soaks hangs on the clock a little, and with it the last thousandth of a reading.</summary>
    private async Task<List<(double X, double Y, double Z)>> JsonReadingsAsync(IReadOnlyDictionary<string, string> environment)
    {
        await using var program = ProgramProcess.Console(
            ["run", "commission", "--machine", "wren-240", "--simulate", "good", "--set", "step-down.cold=true", "--seed", "7", "--speed", "100", "--store", folder.File("runs.db"), "--out", folder.File("out"), "--json"], environment);
        await program.ExitAsync();
        return [.. JsonEvents.Readings(program.Output)];
    }
}
