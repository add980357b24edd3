using ProbeRunner.EndToEnd.Tests.Harness;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.EndToEnd.Tests.Commission;

/// <summary>The look along the gantry by process, over a pseudo-terminal, with a simulated person.</summary>
public sealed class LeanTests
{
    [Fact]
    public async Task A_leaning_gantry_is_found_by_the_step_alone_and_told_in_the_report()
    {
        var (bench, printer) = Bench.StartHere("leaning-gantry");
        await using var _ = bench;
        await using var lean = bench.Begin("lean");

        var exitCode = await lean.ExitAsync();

        Assert.True(exitCode == 1, $"{lean.Output}\n{lean.Errors}");
        Assert.Contains(JsonEvents.Named(lean.Output, "finding"), told => told.GetProperty("id").GetString() == "lean.leans");
        var axis = Assert.Single(bench.Concluded<LeanConclusion>(lean).Axes);
        Assert.InRange(printer.Scenario.Probe.LeanX, axis.LowerMmPerMm, axis.UpperMmPerMm);
        Assert.Equal(printer.Scenario.Probe.LeanX * axis.LengthMm / 2, axis.SlopeMmPerMm * axis.LengthMm / 2, 0.02);
        Assert.Contains("Lean along the gantry", await File.ReadAllTextAsync(Assert.Single(Directory.GetFiles(bench.File("out"), "*.html"))), StringComparison.Ordinal);
    }
}
