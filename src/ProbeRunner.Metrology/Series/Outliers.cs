using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Series;

/// <summary>One step of the search for outliers.</summary>
/// <param name="Index">Which reading stands out most, from 0.</param>
/// <param name="Statistic">How far, in standard deviations of what was left.</param>
/// <param name="Critical">How far it may by chance.</param>
public sealed record OutlierStep(int Index, double Statistic, double Critical);

/// <summary>Readings that do not belong to the rest, by the generalized extreme studentized deviate test (Rosner 1983).</summary>
/// <param name="Indices">The outliers, from 0, the most extreme first; empty when there is none.</param>
/// <param name="Steps">All steps taken. The last one whose statistic exceeds its critical value counts, so that outliers cannot hide each other.</param>
/// <param name="Significance">Share of clean series in which an outlier is claimed.</param>
public sealed record Outliers(IReadOnlyList<int> Indices, IReadOnlyList<OutlierStep> Steps, double Significance)
{
    /// <summary>Searches for up to <paramref name="atMost"/> outliers; three readings or more, rest assumed normal.</summary>
    /// <param name="readings">In any order.</param>
    /// <param name="atMost">One or more; a fifth of the readings and no more than ten when null.</param>
    /// <param name="significance">Between 0 and 1, 0.05 unless said otherwise.</param>
    public static Answer<Outliers> Of(IReadOnlyList<double> readings, int? atMost = null, double significance = 0.05)
    {
        if (Finite.Check(readings, 3, "A search for outliers") is { } why)
        {
            return why;
        }

        if (atMost < 1 || significance is not (> 0 and < 1))
        {
            return Reason.OutOfRange("At least one outlier is searched for, at a significance between 0 and 1.");
        }

        int count = readings.Count;
        int most = Math.Min(atMost ?? Math.Clamp(count / 5, 1, 10), count - 2);
        List<int> left = [.. Enumerable.Range(0, count)];
        var steps = new List<OutlierStep>();
        int found = 0;
        for (int step = 1; step <= most; step++)
        {
            double[] values = [.. left.Select(i => readings[i])];
            double mean = Moments.Mean(values);
            double sd = Moments.StandardDeviation(values);
            int at = left.MaxBy(i => Math.Abs(readings[i] - mean));
            double distance = Math.Abs(readings[at] - mean);
            double statistic = sd > 0 ? distance / sd : 0;
            double critical = Critical(count - step + 1, significance / 2);
            steps.Add(new OutlierStep(at, statistic, critical));
            found = statistic > critical ? step : found;
            left.Remove(at);
        }

        return new Outliers([.. steps.Take(found).Select(s => s.Index)], steps, significance);
    }

    /// <summary>Grubbs's critical value for one outlier among <paramref name="count"/> readings (Grubbs 1969).</summary>
    /// <param name="count">Three or more.</param>
    /// <param name="tail">Significance on this side: half of it when either side counts.</param>
    public static double Critical(int count, double tail)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 3);
        double t = StudentT.Quantile(1 - (tail / count), count - 2);
        return (count - 1) / Math.Sqrt(count) * Math.Sqrt(t * t / (count - 2 + (t * t)));
    }
}
