namespace ProbeRunner.Metrology.JointModel;

/// <summary>Which lengths are tried and which settings keep their say.</summary>
internal static class SettingChoice
{
    private const int Count = 13;
    private const double ShortestMm = 10;
    private const double LongestMm = 400;
    private const double LeastWeight = 0.02;

    /// <summary>The lengths that are tried, mm.</summary>
    public static IEnumerable<double> Lengths => Enumerable.Range(0, Count).Select(k => ShortestMm * Math.Pow(LongestMm / ShortestMm, k / (Count - 1.0)));

    /// <summary>The settings with at least two parts in a hundred of the probability, most probable first, their weights adding up to one.</summary>
    public static IReadOnlyList<HyperParameters> Keep(IReadOnlyCollection<(HyperParameters Setting, double LogWeight)> candidates, int most)
    {
        double best = candidates.Max(c => c.LogWeight);
        double total = candidates.Sum(c => Math.Exp(c.LogWeight - best));
        List<(HyperParameters Setting, double Weight)> kept =
        [
            .. candidates.Select(c => (c.Setting, Weight: Math.Exp(c.LogWeight - best) / total))
                .OrderByDescending(c => c.Weight).Where((c, rank) => rank == 0 || c.Weight >= LeastWeight).Take(most),
        ];
        double sum = kept.Sum(c => c.Weight);
        return [.. kept.Select(c => c.Setting with { Weight = c.Weight / sum })];
    }
}
