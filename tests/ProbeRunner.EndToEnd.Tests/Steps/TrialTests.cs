using ProbeRunner.EndToEnd.Tests.Harness;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.EndToEnd.Tests.Steps;

/// <summary>The trials that need a person at the machine, each by one command over the wire.</summary>
public sealed class TrialTests : IDisposable
{
    private readonly TemporaryFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("heater-trial")]
    [InlineData("axis-moves")]
    [InlineData("halt-trial")]
    [InlineData("preflight")]
    [InlineData("probe-offset", "probe-offset.")]
    public async Task A_good_machine_passes_it(string step, string notes = "none")
    {
        var (exitCode, output, errors) = await ProgramProcess.RunAsync(
            "run", step, "--machine", "wren-240", "--simulate", "--speed", "100",
            "--store", folder.File("runs.db"), "--out", folder.File("out"), "--json");

        Assert.True(exitCode == 0, $"{output}\n{errors}");
        Assert.All(JsonEvents.Named(output, "finding"), told => Assert.StartsWith(notes, told.GetProperty("id").GetString(), StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_controller_that_stays_warm_while_the_computer_is_silent_is_found_out()
    {
        var (bench, printer) = Bench.StartHere();
        await using var _ = bench;
        await using var trial = bench.Begin("silence-trial", "--set", "silence_seconds=60");

        Assert.True(await trial.ExitAsync() == 1, $"{trial.Output}\n{trial.Errors}");
        Assert.False(bench.Concluded<SilenceTrialConclusion>(trial).SwitchedOff);
        Assert.Equal((0.0, 0.0), printer.Truth.HeaterTargets);
    }
}
