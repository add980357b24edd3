using ProbeRunner.Campaigns;
using ProbeRunner.EndToEnd.Tests.Harness;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.EndToEnd.Tests.Steps;

/// <summary>The bed's screws by process, over a pseudo-terminal, with a simulated person at the knobs.</summary>
public sealed class ScrewsTests
{
    [Fact]
    public async Task A_tilted_bed_comes_level_by_the_step_alone_in_at_most_three_rounds()
    {
        var (bench, printer) = Bench.StartHere("tilted");
        await using var _ = bench;
        await using var screws = bench.Begin("screws");

        var exitCode = await screws.ExitAsync();

        Assert.True(exitCode == 0, $"{screws.Output}\n{screws.Errors}");
        var rounds = bench.Concluded<ScrewsConclusion>(screws).Rounds;
        Assert.InRange(rounds.Length, 3, 5); // as found, after the trial turn, and after each of at most three rounds
        var truth = TrueLevel.WorstMm(new ProfileCatalogue([Path.Combine(AppContext.BaseDirectory, "profiles")]).Machine("wren-240").Screws, printer.Truth);
        Assert.True(truth <= 0.02, $"truly {truth:0.000} mm");
    }
}
