using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Steps.Trials;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps.Trials;

public sealed class HeaterTrialTests
{
    [Fact]
    public void Both_heaters_are_seen_to_warm_and_to_switch_off() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps("heater-trial"));

        Assert.True(outcome.Verdict.State == VerdictWord.Fit, outcome.Verdict.Reason);
        HeaterTrialConclusion trial = bench.Conclusion<HeaterTrialConclusion>();
        Assert.Equal(["nozzle", "bed"], trial.Heaters.Select(heater => heater.Name));
        Assert.All(trial.Heaters, heater => Assert.InRange(heater.HighestCelsius, heater.BeganCelsius + 2, 40));
        Assert.Equal((0.0, 0.0), bench.Host.Truth.HeaterTargets);
    });

    [Theory]
    [InlineData("heaters = \"none\"", null, 0)]
    [InlineData("heaters = \"bed\"", "skip", 0)]
    [InlineData("heaters = \"bed\"", null, 1)]
    public void What_is_left_out_is_said(string parameter, string? answer, int tried) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bench.Person.Instead = prompt => prompt.Id == PromptIds.HeaterTrialBegin ? answer : null;

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps($"do = \"heater-trial\"\n{parameter}"));

        Assert.Equal(VerdictWord.Fit, outcome.Verdict.State);
        HeaterTrialConclusion trial = bench.Conclusion<HeaterTrialConclusion>();
        Assert.Equal(tried, trial.Heaters.Length);
        Assert.Equal(tried == 0, trial.Findings.Any(finding => finding.Id == "heater-trial.not-tried"));
    });

    [Fact]
    public void A_heater_that_is_stopped_in_the_middle_is_switched_off() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Printer.Before = (verb, call) => verb == "dwell" && call == 2 ? throw new IOException("gone") : Task.CompletedTask;

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps("heater-trial"));

        Assert.IsType<RunOutcome.Faulted>(outcome);
        Assert.Equal((0.0, 0.0), (bench.Printer.NozzleTarget, bench.Printer.BedTarget));
    });

    [Theory]
    [InlineData(21, 24, 0, 27, 30.0, "")]
    [InlineData(21, 24, 35, 27, 30.0, "stays-on")] // the target did not go
    [InlineData(21, 24, 0, 41, 30.0, "stays-on")]
    [InlineData(21, 24, 0, 38, null, "stays-on")] // rose as long as it was watched
    [InlineData(21, 21.5, 0, 21.5, 30.0, "does-not-warm")]
    public void What_a_watched_heater_shows(double began, double off, double target, double highest, double? settledSeconds, string expected)
    {
        var watch = new HeaterWatch("bed", began, off, target, highest, settledSeconds is { } seconds ? TimeSpan.FromSeconds(seconds) : null);

        Assert.Equal(expected.Length == 0 ? "" : $"heater-trial.bed-{expected}", string.Join(' ', HeaterTrialJudgement.Of([watch]).Select(finding => finding.Id)));
    }
}
