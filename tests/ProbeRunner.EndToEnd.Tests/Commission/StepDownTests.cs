using ProbeRunner.EndToEnd.Tests.Harness;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.EndToEnd.Tests.Commission;

/// <summary>The step-down by process, over a pseudo-terminal, with a simulated person.</summary>
public sealed class StepDownTests
{
    [Fact]
    public async Task A_hot_step_down_alone_finds_the_offset_and_tells_it_with_the_person_s_own_repeatability()
    {
        var (bench, printer) = Bench.StartHere();
        await using var _ = bench;
        var distances = new List<double>();
        printer.Asked = (question, truth) => distances.AddRange(question == "feel" ? [truth.TriggerDistanceAt(120, 120)] : []);
        await using var stepDown = bench.Begin("step-down", "--set", "soak_minutes=1");

        var exitCode = await stepDown.ExitAsync();

        Assert.True(exitCode == 0, $"{stepDown.Output}\n{stepDown.Errors}");
        Assert.Contains(JsonEvents.Named(stepDown.Output, "changed"), told => told.GetProperty("setting").GetString() == "probe offset Z");
        Assert.Equal(-distances.Average() + (0.5 / printer.Scenario.Travel.StepsPerMmZ), bench.Concluded<StepDownConclusion>(stepDown).OffsetMm, 0.015);
        var report = await File.ReadAllTextAsync(Assert.Single(Directory.GetFiles(bench.File("out"), "*.html")));
        Assert.Contains("Your own repeatability", report, StringComparison.Ordinal);
        Assert.Contains("20 sheets", report, StringComparison.Ordinal);
        Assert.Contains("Provisional", report, StringComparison.Ordinal); // a minute is no soak
    }
}
