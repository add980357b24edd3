using MathNet.Numerics.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Budgets;

/// <summary>The factor that turns a standard uncertainty into an expanded one (JCGM 100:2008, G.4).</summary>
public static class CoverageFactor
{
    // Beyond this the t quantile equals the normal one to better than 1e-6.
    private const double PracticallyNormal = 1e6;

    /// <summary>Two-sided t quantile at the degrees of freedom truncated to a whole number, normal when they are unlimited.</summary>
    /// <param name="coverageProbability">Above 0, below 1.</param>
    /// <param name="degreesOfFreedom">1 or more; null for unlimited.</param>
    public static Answer<double> For(double coverageProbability, double? degreesOfFreedom)
    {
        if (!(coverageProbability > 0 && coverageProbability < 1))
        {
            return Reason.OutOfRange("A coverage probability must lie above 0 and below 1.");
        }

        double upperTail = 0.5 + (coverageProbability / 2);
        if (degreesOfFreedom is not { } freedom || freedom > PracticallyNormal)
        {
            return Normal.InvCDF(0, 1, upperTail);
        }

        // A sum that should be a whole number must not be truncated to the one below by a rounding error.
        double whole = Math.Floor(freedom * (1 + 1e-12));
        return whole >= 1
            ? StudentT.InvCDF(0, 1, whole, upperTail)
            : Reason.OutOfRange("A coverage factor needs at least 1 degree of freedom.");
    }
}
