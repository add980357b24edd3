using System.Globalization;

namespace ProbeRunner.Metrology.Series;

/// <summary>Gathers what is wrong with a series, the surest first.</summary>
internal static class SeriesDefects
{
    /// <summary>p-value below which a defect is reported: eight tests are made, so that about one sound series in twelve shows one.</summary>
    internal const double Significance = 0.01;

    /// <summary>A comb below half a sigma does no harm.</summary>
    private const double CoarseComb = 0.5;

    internal static IReadOnlyList<SeriesDefect> Of(SeriesAnalysis analysis, IReadOnlyList<double> readings)
    {
        var found = new List<SeriesDefect>();
        if (analysis.MannKendall.OrElse(null) is { } kendall)
        {
            double change = kendall.SenSlope * (readings.Count - 1);
            found.Add(new(SeriesDefectKind.Drift, change, kendall.PValue, Text($"Readings drift by {change:+0.0000;-0.0000} mm along the series.")));
        }

        if (analysis.WarmUp.OrElse(null) is { } warm)
        {
            found.Add(new(SeriesDefectKind.WarmUp, warm.Shift, warm.PValue, Text($"The first {warm.Touches} differ from the rest by {warm.Shift:+0.0000;-0.0000} mm.")));
        }

        if (analysis.Outliers.OrElse(null) is { Indices.Count: > 0 } outliers)
        {
            double distance = readings[outliers.Indices[0]] - analysis.Summary.Median;
            found.Add(new(
                SeriesDefectKind.Outliers,
                distance,
                ChanceOfOutlier(outliers, readings.Count),
                Text($"{outliers.Indices.Count} of {readings.Count} stand apart, the farthest by {distance:+0.0000;-0.0000} mm.")));
        }

        if (analysis.TwoLevels.OrElse(null) is { } levels && levels.Distance > 2 * levels.Sigma)
        {
            found.Add(new(
                SeriesDefectKind.TwoLevels,
                levels.Distance,
                levels.PValue,
                Text($"Readings keep to two heights {levels.Distance:0.0000} mm apart and change between them {levels.Switches} times: something clicks.")));
        }

        if (analysis.Autocorrelation.OrElse(null) is { } neighbours)
        {
            double r = neighbours.Autocorrelations[0];
            found.Add(new(SeriesDefectKind.Autocorrelation, r, neighbours.LjungBoxPValue, Text($"Readings know of their predecessors (autocorrelation {r:0.00}).")));
        }

        bool coarse = analysis.Comb.OrElse(null) is { } comb && comb.StepOverSigma >= CoarseComb;
        if (coarse)
        {
            Comb teeth = analysis.Comb.Value;
            found.Add(new(SeriesDefectKind.Comb, teeth.Step, teeth.PValue, Text($"Readings come in steps of {teeth.Step:0.0000} mm, coarse for their scatter.")));
        }
        else if (analysis.Normality.OrElse(null) is { } normal)
        {
            found.Add(new(SeriesDefectKind.NonNormal, normal.AndersonDarling, normal.PValue, "Readings are not spread as a normal distribution."));
        }

        if (analysis.Periodicity.OrElse(null) is { } swing)
        {
            found.Add(new(SeriesDefectKind.Periodic, swing.Amplitude, swing.PValue, Text($"A swing of +-{swing.Amplitude:0.0000} mm repeats every {swing.PeriodReadings:0.0} readings.")));
        }

        return [.. found.Where(d => d.PValue < Significance).OrderBy(d => d.PValue)];
    }

    /// <summary>Bonferroni's bound on the chance of the step that decided.</summary>
    private static double ChanceOfOutlier(Outliers outliers, int count)
    {
        int last = outliers.Indices.Count;
        double n = count - last + 1;
        double g = outliers.Steps[last - 1].Statistic;
        double square = g * g * n;
        double rest = ((n - 1) * (n - 1)) - square;
        return rest <= 0 ? 0 : Math.Min(1, n * Distributions.StudentT.TwoSided(Math.Sqrt((n - 2) * square / rest), n - 2));
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
