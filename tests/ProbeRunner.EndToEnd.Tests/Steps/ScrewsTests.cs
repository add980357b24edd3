using ProbeRunner.EndToEnd.Tests.Harness;

namespace ProbeRunner.EndToEnd.Tests.Steps;

/// <summary>The bed's screws by process, over a pseudo-terminal, with a simulated person at the knobs.</summary>
public sealed class ScrewsTests
{
    private const int TouchesPerRound = 10;

    [Fact]
    public async Task A_tilted_bed_comes_level_by_the_step_alone_in_at_most_three_rounds()
    {
        await using var bench = await Bench.StartAsync("tilted");
        await using var screws = bench.Begin("screws");

        var exitCode = await screws.ExitAsync();

        Assert.True(exitCode == 0, $"{screws.Output}\n{screws.Errors}");
        List<double> heights = [.. JsonEvents.Readings(screws.Output).Select(reading => reading.Z)];
        var (found, left) = (Spread(heights.Take(TouchesPerRound)), Spread(heights.TakeLast(TouchesPerRound)));
        Assert.True(left < found / 3, $"{found:0.000} mm were found and {left:0.000} mm left");

        // As found, after the trial turn, and after each of the three rounds.
        Assert.InRange(heights.Count, 3 * TouchesPerRound, 5 * TouchesPerRound);
    }

    private static double Spread(IEnumerable<double> heights) => heights.Max() - heights.Min();
}
