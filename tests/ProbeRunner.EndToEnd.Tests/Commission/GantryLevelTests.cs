using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Commission;

/// <summary>The levelling of the gantry by process, over a pseudo-terminal, with a simulated person.</summary>
public sealed class GantryLevelTests
{
    private const double AsWellAsAHandCanMm = 0.1;

    [Fact]
    public async Task A_sunken_gantry_is_levelled_by_the_step_alone()
    {
        var (bench, printer) = Bench.StartHere("sunken-gantry");
        await using var _ = bench;
        var before = printer.Truth.GantryDifferenceMm;
        await using var level = bench.BeginOn("heron-330", "gantry-level");

        var exitCode = await level.ExitAsync();

        Assert.True(exitCode == 0, $"{level.Output}\n{level.Errors}");
        Assert.Contains(JsonEvents.Named(level.Output, "answer"), told => told.GetProperty("answer").GetString() == "both-rest");
        Assert.True(Math.Abs(before) > 0.5);
        Assert.InRange(printer.Truth.GantryDifferenceMm, -AsWellAsAHandCanMm, AsWellAsAHandCanMm);
    }
}
