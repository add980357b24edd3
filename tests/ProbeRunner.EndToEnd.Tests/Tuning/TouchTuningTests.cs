using ProbeRunner.EndToEnd.Tests.Harness;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.EndToEnd.Tests.Tuning;

/// <summary>Touches in several manners, over the wire.</summary>
public sealed class TouchTuningTests
{
    private const double TwiceTheScatter = 230; // by the scenario's law; 1.75 times the slow one's is let pass

    [Fact]
    public async Task Touch_tuning_changes_the_feed_of_touches_over_the_wire_and_reports_what_it_found()
    {
        await using var bench = await Bench.StartAsync("hasty-touch", speed: "300");
        await using var tuning = bench.Begin(
            "touch-tuning", "--set", "rounds=6", "--set", "feeds=2", "--set", "most_extra_lift_mm=1", "--set", "slow_feed_mm_per_min=120");

        var exitCode = await tuning.ExitAsync();

        Assert.True(exitCode is 0 or 1, $"{tuning.Output}\n{tuning.Errors}");
        Assert.InRange(JsonEvents.Readings(tuning.Output).Count(), 30, 50);
        var tuned = bench.Concluded<TouchTuningConclusion>(tuning);
        Assert.True(tuned.FeedMmPerMin < TwiceTheScatter, tuned.Verdict.Reason);
        Assert.DoesNotContain(tuned.Manners, manner => manner is { FeedMmPerMin: > TwiceTheScatter, IsEquivalent: true });
        var report = JsonEvents.Named(tuning.Output, "run-ended").Single().GetProperty("report").GetString()!;
        Assert.Contains("Ways of touching", await File.ReadAllTextAsync(report), StringComparison.Ordinal);
    }
}
