using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Steps;

/// <summary>The first-layer check by process, over a pseudo-terminal, with a simulated person who looks at the patches.</summary>
public sealed class FirstLayerTests
{
    [Fact]
    public async Task Patches_are_laid_and_judged_after_a_calibration_and_the_report_tells_the_correction()
    {
        await using var bench = await Bench.StartAsync();
        var script = ColdCalibration.WriteTo(bench.File("layer.toml"));
        await File.AppendAllTextAsync(script, "[[step]]\ndo = \"first-layer\"\n");
        await using var run = bench.Begin(script);

        var exitCode = await run.ExitAsync();

        Assert.True(exitCode == 1, $"{run.Output}\n{run.Errors}"); // the map was taken cold, so its mesh stays open
        var layer = JsonEvents.Named(run.Output, "verdict").Single(told => told.GetProperty("step").GetString() == "first-layer");
        Assert.Equal("fit", layer.GetProperty("state").GetString());
        List<string> looks = [.. JsonEvents.Named(run.Output, "answer").Where(told => told.GetProperty("id").GetString() == "first-layer.patch").Select(told => told.GetProperty("answer").GetString()!)];
        Assert.Contains("gaps", looks);
        Assert.Contains("good", looks);
        Assert.Contains("ridges", looks);
        Assert.Contains("First-layer check", await File.ReadAllTextAsync(Assert.Single(Directory.GetFiles(bench.File("out"), "*.html"))), StringComparison.Ordinal);
    }
}
