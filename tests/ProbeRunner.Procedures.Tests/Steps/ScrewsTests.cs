using ProbeRunner.Campaigns;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class ScrewsTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void A_tilted_bed_comes_level_within_two_hundredths_in_at_most_three_rounds(ulong seed) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "tilted", seed);

        RunOutcome outcome = await bench.RunAsync(TestBench.Script("level-screws"));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        ScrewsConclusion screws = bench.Conclusion<ScrewsConclusion>();
        Assert.True(screws.Verdict.State == VerdictWord.Fit, screws.Verdict.Reason);
        Assert.True(screws.Rounds.Length <= 5, "found, trial and at most three rounds");
        Assert.True(WorstTrueTilt(bench) <= 0.02, $"truly {WorstTrueTilt(bench):0.000} mm");
        Assert.Empty(bench.Host.Truth.IllegalMoves);
        Assert.Empty(bench.Host.Truth.Scratches);
    });

    [Fact]
    public void Screws_that_work_the_other_way_round_than_the_profile_says_are_noticed_and_still_come_level() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "tilted", turnedRound: true);

        await bench.RunAsync(TestBench.Script("level-screws"));

        ScrewsConclusion screws = bench.Conclusion<ScrewsConclusion>();
        Assert.Contains(screws.Findings, finding => finding.Id == "screws.other-way-round");
        Assert.True(screws.Verdict.State == VerdictWord.Fit, screws.Verdict.Reason);
        Assert.True(WorstTrueTilt(bench) <= 0.02, $"truly {WorstTrueTilt(bench):0.000} mm");
    });

    [Fact]
    public void Three_screws_come_level_too() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "heron-good");
        await bench.Host.AskAsync("turn screw back 1");

        await bench.RunAsync(TestBench.Script("level-screws"));

        Assert.Equal(VerdictWord.Fit, bench.Conclusion<ScrewsConclusion>().Verdict.State);
        Assert.True(WorstTrueTilt(bench) <= 0.02, $"truly {WorstTrueTilt(bench):0.000} mm");
    });

    [Fact]
    public void Knobs_that_are_not_turned_are_noticed_after_the_trial() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "tilted");
        bench.Person.Instead = prompt => prompt.Id == PromptIds.ScrewsTurn ? "turned" : null;

        await bench.RunAsync(TestBench.Script("level-screws"));

        ScrewsConclusion screws = bench.Conclusion<ScrewsConclusion>();
        Assert.Contains(screws.Findings, finding => finding.Id == "screws.did-not-move");
        Assert.Equal(VerdictWord.NotFit, screws.Verdict.State);
        Assert.Equal(1, bench.Person.Asked.Count(id => id == PromptIds.ScrewsTurn));
    });

    [Fact]
    public void A_person_who_turns_for_so_long_that_the_motors_let_go_gets_them_homed_again() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "tilted");
        bench.Person.Pause = prompt => prompt.Id == PromptIds.ScrewsTurn ? TimeSpan.FromMinutes(11) : TimeSpan.FromSeconds(3);

        RunOutcome outcome = await bench.RunAsync(TestBench.Script("level-screws"));

        Assert.True(outcome is RunOutcome.Completed, outcome.Why);
        Assert.Equal(VerdictWord.Fit, bench.Conclusion<ScrewsConclusion>().Verdict.State);
        Assert.Empty(bench.Host.Truth.IllegalMoves);
    });

    [Fact]
    public void A_spring_without_travel_left_ends_the_turning_with_advice() => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, "tilted");

        await bench.RunAsync(TestBench.Steps("preflight", "first-lift", "home-xy", "self-check", "first-home-z", "do = \"screws\"\nspring_travel_mm = 0.2"));

        ScrewsConclusion screws = bench.Conclusion<ScrewsConclusion>();
        Assert.Contains(screws.Findings, finding => finding.Id == "screws.spring");
        Assert.Equal(VerdictWord.NotFit, screws.Verdict.State);
    });

    private static double WorstTrueTilt(SimulatedBench bench) => TrueLevel.WorstMm(bench.Printer.Profile.Screws, bench.Host.Truth);
}
