using System.Collections.Immutable;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Series;

/// <summary>How the touches of one place become one height.</summary>
public enum RepeatRule
{
    /// <summary>The mean of those that agree: a mean trimmed by agreement, not by number, since three touches leave nothing to trim by number.</summary>
    TrimmedMean,

    /// <summary>The median of those that agree.</summary>
    Median,
}

/// <summary>The touches of one place, made one.</summary>
/// <param name="Height">The height, mm.</param>
/// <param name="Kept">Which touches agree, by their index.</param>
/// <param name="Settled">Whether more than half of them agree; a single touch settles nothing but is all there is, and counts as settled.</param>
/// <param name="SumOfSquares">Of the kept ones about their mean, mm2, for a pooled scatter.</param>
public readonly record struct CombinedTouches(double Height, ImmutableArray<int> Kept, bool Settled, double SumOfSquares);

/// <summary>
/// Touches repeated at one place: the largest company that agrees counts, the others are outliers. A wrong touch (dirt, noise on the cable) is
/// wrong by much more than the scatter, so agreement within a distance tells it apart where no statistic of three numbers could.
/// </summary>
public static class RepeatedTouches
{
    /// <summary>Combines the touches of one place and one datum epoch.</summary>
    /// <param name="heights">One or more, mm, finite.</param>
    /// <param name="disagreementMm">Touches at most this far from one in the middle of their company agree, mm, greater than zero.</param>
    /// <param name="rule">Mean or median of those that agree.</param>
    public static Answer<CombinedTouches> Combine(IReadOnlyList<double> heights, double disagreementMm, RepeatRule rule = RepeatRule.TrimmedMean)
    {
        ArgumentNullException.ThrowIfNull(heights);
        if (Finite.Check(heights, 1, "A place's height") is { } why)
        {
            return why;
        }

        if (!(disagreementMm > 0))
        {
            return Reason.OutOfRange("The distance within which touches agree must be greater than zero.");
        }

        int[] kept = Company(heights, disagreementMm);
        double[] agreeing = [.. kept.Select(index => heights[index]).Order()];
        double mean = agreeing.Average();
        return new CombinedTouches(
            rule == RepeatRule.Median ? (agreeing[(agreeing.Length - 1) / 2] + agreeing[agreeing.Length / 2]) / 2 : mean,
            [.. kept],
            2 * kept.Length > heights.Count,
            agreeing.Sum(height => (height - mean) * (height - mean)));
    }

    /// <summary>The largest company around one of the touches; of equally large ones the narrowest.</summary>
    private static int[] Company(IReadOnlyList<double> heights, double disagreementMm) =>
        Enumerable.Range(0, heights.Count)
            .Select(centre => Enumerable.Range(0, heights.Count).Where(index => Math.Abs(heights[index] - heights[centre]) <= disagreementMm).ToArray())
            .OrderByDescending(company => company.Length)
            .ThenBy(company => company.Max(index => heights[index]) - company.Min(index => heights[index]))
            .First();
}
