using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

/// <summary>Each axis seen by the person: lifted, homed, moved.</summary>
public sealed class AxesSeenTests
{
    private static readonly string[] Steps = ["preflight", "first-lift", "home-xy", "self-check", "first-home-z", "axis-moves"];

    [Theory]
    [InlineData("good")]
    [InlineData("heron-good")]
    public void A_person_who_names_what_moved_finds_the_axes_right(string scenario) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, scenario);

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps(Steps));

        Assert.True(outcome.Verdict.State == VerdictWord.Fit, outcome.Verdict.Reason);
        Assert.Empty(bench.Host.Truth.IllegalMoves);
    });

    [Theory]
    [InlineData(PromptIds.AxisMovesX, "left", "axis-moves.x-wrong", "Turn round")]
    [InlineData(PromptIds.AxisMovesX, "nothing", "axis-moves.x-wrong", "motor supply")]
    [InlineData(PromptIds.AxisMovesY, "back", "axis-moves.y-wrong", "Turn round")]
    public void An_axis_seen_to_go_elsewhere_ends_the_work(string question, string seen, string finding, string next) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bench.Person.Instead = prompt => prompt.Id == question ? seen : null;

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps([.. Steps, "series"]));

        Assert.Equal(VerdictWord.NotFit, outcome.Verdict.State);
        Finding found = Assert.Single(bench.Conclusion<PlainConclusion>().Findings);
        Assert.Equal(finding, found.Id);
        Assert.Contains(next, found.Next, StringComparison.Ordinal);
    });

    [Theory]
    [InlineData(PromptIds.FirstLiftWentUp, PromptIds.FirstLiftWhatItDid, "nothing", "first-lift.nothing-moved", "USB alone")]
    [InlineData(PromptIds.FirstLiftWentUp, PromptIds.FirstLiftWhatItDid, "down", "first-lift.wrong-way", "direction of Z")]
    [InlineData(PromptIds.HomeXLooksRight, PromptIds.HomeXyWhatItDid, "nothing", "home-xy.x-looked-wrong", "USB alone")]
    [InlineData(PromptIds.HomeYLooksRight, PromptIds.HomeXyWhatItDid, "grinding", "home-xy.y-looked-wrong", "end switch")]
    public void What_was_seen_instead_decides_what_to_do_next(string question, string instead, string seen, string finding, string next) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "good");
        bench.Person.Instead = prompt => prompt.Id == question ? "no" : prompt.Id == instead ? seen : null;

        RunOutcome outcome = await bench.RunAsync(TestBench.Steps(Steps));

        Assert.Equal(VerdictWord.NotFit, outcome.Verdict.State);
        Finding found = Assert.Single(bench.Conclusion<PlainConclusion>().Findings);
        Assert.Equal(finding, found.Id);
        Assert.Contains(next, found.Next, StringComparison.Ordinal);
    });
}
