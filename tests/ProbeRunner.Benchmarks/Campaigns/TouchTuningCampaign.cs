using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>Touch tuning on machines whose truth is known: how often the manner chosen is truly as good, which feeds are chosen, what it costs.</summary>
internal static class TouchTuningCampaign
{
    private const double MmPerSecond = 60;

    /// <summary>Runs it with so many seeds on a probe that minds haste and on one that does not.</summary>
    public static void Run(TextWriter output, int seeds)
    {
        foreach (string name in new[] { "hasty-touch", "good" })
        {
            Scenario scenario = ScenarioFile.Load(name);
            TouchTuningConclusion[] found = [.. Enumerable.Range(1, seeds).Select(seed => MachineBench.Run<TouchTuningConclusion, TouchTuningConclusion>(
                scenario with { Seed = (ulong)(5000 + seed) }, MachineBench.Steps("first-lift", "home", "touch-tuning"), (tuned, _) => tuned))];
            int wrong = found.Count(tuned => Sigma(scenario, tuned.FeedMmPerMin) > tuned.LargestRatio * Sigma(scenario, tuned.Manners[0].FeedMmPerMin));
            string feeds = string.Join(", ", found.GroupBy(tuned => tuned.FeedMmPerMin).OrderBy(group => group.Key).Select(group => FormattableString.Invariant($"{group.Key:0} mm/min {group.Count()}")));
            output.WriteLine(FormattableString.Invariant(
                $"{name,-12} {seeds} seeds: chosen and truly not as good {wrong}; chosen {feeds}; touches {found.Average(tuned => tuned.Manners.Sum(manner => manner.Touches)):0} (at most {found.Max(tuned => tuned.Manners.Sum(manner => manner.Touches))}); saved on 500 touches {found.Average(tuned => tuned.Saved.TotalMinutes):0} min"));
        }
    }

    /// <summary>The scatter of a touch and its extension at a feed, by the scenario's law, long after the pin came out.</summary>
    private static double Sigma(Scenario scenario, double feedMmPerMin)
    {
        double feed = Math.Min(feedMmPerMin / MmPerSecond, scenario.Probe.TouchFeed), haste = scenario.Probe.HasteSdMm * feed * feed;
        return Math.Sqrt(Math.Pow(scenario.Probe.TouchSdMm, 2) + Math.Pow(scenario.Probe.ExtensionSdMm, 2) + (haste * haste));
    }
}
