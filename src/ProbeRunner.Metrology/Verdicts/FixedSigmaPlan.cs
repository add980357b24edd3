using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Verdicts;

/// <summary>A test of sigma with its number of readings fixed beforehand: not fit when s exceeds a critical value.</summary>
/// <param name="Readings">Number of readings to take.</param>
/// <param name="CriticalChiSquare">Critical value of (n - 1) s^2 / good^2.</param>
/// <param name="CriticalSigma">The s above which the verdict is not fit, in the unit of the limits.</param>
/// <param name="Power">Probability that a bad probe is found not fit.</param>
public sealed record FixedSigmaPlan(int Readings, double CriticalChiSquare, double CriticalSigma, double Power)
{
    private const int Most = 1_000_000;

    /// <summary>The smallest plan with both errors within bounds; normal, independent readings assumed (e-Handbook 7.2.3).</summary>
    /// <param name="goodSigma">Above 0.</param>
    /// <param name="badSigma">Above <paramref name="goodSigma"/>.</param>
    /// <param name="goodCalledNotFit">Share accepted, between 0 and 0.5.</param>
    /// <param name="badCalledFit">Share accepted, between 0 and 0.5.</param>
    public static Answer<FixedSigmaPlan> Smallest(double goodSigma, double badSigma, double goodCalledNotFit = 0.05, double badCalledFit = 0.05)
    {
        if (!(goodSigma > 0) || !(badSigma > goodSigma) || !double.IsFinite(badSigma)
            || goodCalledNotFit is not (> 0 and < 0.5) || badCalledFit is not (> 0 and < 0.5))
        {
            return Reason.OutOfRange("A plan needs 0 < good sigma < bad sigma and errors between 0 and 0.5.");
        }

        int low = 1;
        int high = 2;
        while (Power(high) < 1 - badCalledFit)
        {
            low = high;
            high *= 2;
            if (high > Most)
            {
                return Reason.OutOfRange("The two sigmas are so close that more than a million readings would be needed.");
            }
        }

        while (high - low > 1)
        {
            int middle = (low + high) / 2;
            (low, high) = Power(middle) < 1 - badCalledFit ? (middle, high) : (low, middle);
        }

        double critical = ChiSquare.Quantile(1 - goodCalledNotFit, high - 1);
        return new FixedSigmaPlan(high, critical, goodSigma * Math.Sqrt(critical / (high - 1)), Power(high));

        double Power(int count) => ChiSquare.Above(
            ChiSquare.Quantile(1 - goodCalledNotFit, count - 1) * goodSigma * goodSigma / (badSigma * badSigma), count - 1);
    }
}
