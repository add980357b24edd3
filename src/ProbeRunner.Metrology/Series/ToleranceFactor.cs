using ProbeRunner.Metrology.Distributions;

namespace ProbeRunner.Metrology.Series;

/// <summary>
/// How many standard deviations from the mean an interval must reach to hold a given share of all future readings with a given
/// confidence. Normal, independent readings assumed. ISO 16269-6; NIST/SEMATECH e-Handbook 7.2.6.3.
/// </summary>
public static class ToleranceFactor
{
    /// <summary>Exact one-sided factor, by the noncentral t distribution.</summary>
    /// <param name="count">Number of readings, two or more.</param>
    /// <param name="share">Share of readings to hold, between 0.5 and 1.</param>
    /// <param name="confidence">Between 0.5 and 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument is outside its range.</exception>
    public static double OneSided(int count, double share = 0.95, double confidence = 0.95)
    {
        Check(count, share, confidence);
        double root = Math.Sqrt(count);
        return NoncentralT.UpperQuantile(confidence, count - 1, StandardNormal.Quantile(share) * root) / root;
    }

    /// <summary>Exact two-sided factor: the mean, wherever it fell, is integrated over.</summary>
    /// <inheritdoc cref="OneSided"/>
    public static double TwoSided(int count, double share = 0.95, double confidence = 0.95)
    {
        Check(count, share, confidence);
        double freedom = count - 1;
        double root = Math.Sqrt(count);
        return PositiveRoot.Find(Excess, k => (Excess(k * 1.0001) - Excess(k * 0.9999)) / (0.0002 * k), TwoSidedHowe(count, share, confidence));

        double Excess(double factor) => (2 * NoncentralT.Over(0, 8.5, z =>
        {
            double reach = HalfWidthHolding(share, z / root);
            return StandardNormal.Density(z) * ChiSquare.Above(freedom * reach * reach / (factor * factor), freedom);
        })) - confidence;
    }

    /// <summary>Howe's approximation of the two-sided factor, as the handbook prints it.</summary>
    /// <inheritdoc cref="OneSided"/>
    public static double TwoSidedHowe(int count, double share = 0.95, double confidence = 0.95)
    {
        Check(count, share, confidence);
        double freedom = count - 1;
        return StandardNormal.Quantile((1 + share) / 2)
            * Math.Sqrt(freedom * (1 + (1.0 / count)) / ChiSquare.Quantile(1 - confidence, freedom));
    }

    /// <summary>The half-width r about an off-centre point z for which z - r to z + r holds the share of a standard normal.</summary>
    private static double HalfWidthHolding(double share, double z) => PositiveRoot.Find(
        r => 1 - share - StandardNormal.Above(z + r) - StandardNormal.Below(z - r),
        r => StandardNormal.Density(z + r) + StandardNormal.Density(z - r),
        StandardNormal.Quantile((1 + share) / 2) + (z / 2));

    private static void Check(int count, double share, double confidence)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 2);
        ArgumentOutOfRangeException.ThrowIfLessThan(share, 0.5);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(share, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(confidence, 0.5);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(confidence, 1);
    }
}
