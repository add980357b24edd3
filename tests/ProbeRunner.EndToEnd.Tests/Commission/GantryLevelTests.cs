using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Commission;

/// <summary>The levelling of the gantry by process, over a pseudo-terminal, with a simulated person.</summary>
public sealed class GantryLevelTests
{
    [Fact]
    public async Task A_sunken_gantry_is_levelled_by_the_step_alone()
    {
        using var folder = new TemporaryFolder();

        var (exitCode, output, errors) = await ProgramProcess.RunAsync(
            "run", "gantry-level", "--machine", "heron-330", "--simulate", "sunken-gantry", "--speed", "100", "--seed", "7",
            "--store", folder.File("runs.db"), "--out", folder.File("out"), "--json");

        Assert.True(exitCode == 0, $"{output}\n{errors}");
        Assert.Contains(JsonEvents.Named(output, "answer"), told => told.GetProperty("answer").GetString() == "both-rest");
    }
}
