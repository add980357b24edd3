using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Series;

/// <summary>Anderson and Darling's test of normality, mean and sigma estimated (Stephens 1986, Table 4.9).</summary>
/// <param name="AndersonDarling">A squared, unmodified.</param>
/// <param name="Modified">A squared (1 + 0.75/n + 2.25/n^2).</param>
/// <param name="PValue">Of the modified statistic. A comb of readings much coarser than sigma / 2 looks non-normal too.</param>
public sealed record Normality(double AndersonDarling, double Modified, double PValue)
{
    /// <summary>Tests readings in any order; eight that differ, or more.</summary>
    public static Answer<Normality> Of(IReadOnlyList<double> readings)
    {
        if (Finite.Check(readings, 8, "A test of normality") is { } why)
        {
            return why;
        }

        double[] sorted = [.. readings.Order()];
        int n = sorted.Length;
        double mean = Moments.Mean(sorted);
        double sd = Moments.StandardDeviation(sorted);
        if (!(sd > 0) || !double.IsFinite(sd))
        {
            return Reason.Constant("A test of normality");
        }

        double sum = Moments.Sum(n, i => ((2 * i) + 1) * (LogBelow((sorted[i] - mean) / sd) + LogBelow((mean - sorted[n - 1 - i]) / sd)));
        double square = -n - (sum / n);
        double modified = square * (1 + (0.75 / n) + (2.25 / ((double)n * n)));
        return new Normality(square, modified, Probability(modified));
    }

    /// <summary>Stephens's p-value of the modified statistic.</summary>
    internal static double Probability(double modified) => modified switch
    {
        < 0.2 => 1 - Math.Exp(-13.436 + (101.14 * modified) - (223.73 * modified * modified)),
        < 0.34 => 1 - Math.Exp(-8.318 + (42.796 * modified) - (59.938 * modified * modified)),
        < 0.6 => Math.Exp(0.9177 - (4.279 * modified) - (1.38 * modified * modified)),
        < 13 => Math.Exp(1.2937 - (5.709 * modified) + (0.0186 * modified * modified)),
        _ => 0,
    };

    /// <summary>ln of the normal distribution function; beyond 37 sigma, where it underflows, by its asymptote.</summary>
    private static double LogBelow(double z) =>
        z > -37 ? Math.Log(StandardNormal.Below(z)) : (-0.5 * z * z) - Math.Log(-z) - 0.9189385332046727;
}
