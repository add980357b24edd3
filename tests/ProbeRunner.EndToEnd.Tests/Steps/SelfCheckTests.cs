using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Steps;

/// <summary>The checks of the probe alone, each by one command, with the simulated person's finger at the probe.</summary>
public sealed class SelfCheckTests : IDisposable
{
    private readonly TemporaryFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("self-check", "good", 0, "")]
    [InlineData("self-check", "dead-probe", 1, "self-check.dead")]
    [InlineData("self-check", "reversed-probe", 1, "self-check.reversed")]
    [InlineData("touch-report-check", "good", 0, "")]
    public async Task A_probe_is_told_by_its_symptoms_over_the_wire(string step, string scenario, int expected, string finding)
    {
        var (exitCode, output, errors) = await ProgramProcess.RunAsync(
            "run", step, "--machine", "wren-240", "--simulate", scenario, "--speed", "100",
            "--store", folder.File("runs.db"), "--out", folder.File("out"), "--json");

        Assert.True(exitCode == expected, $"{output}\n{errors}");
        Assert.Equal(finding, string.Join(", ", JsonEvents.Named(output, "finding").Select(told => told.GetProperty("id").GetString())));
    }
}
