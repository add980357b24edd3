using ProbeRunner.Metrology.Distributions;

namespace ProbeRunner.Metrology.Series;

/// <summary>Limits of a standard deviation, in the unit of the readings.</summary>
/// <param name="Confidence">0 to 1.</param>
/// <param name="Lower">Lower limit.</param>
/// <param name="Upper">Upper limit.</param>
public sealed record SigmaInterval(double Confidence, double Lower, double Upper)
{
    /// <summary>The chi-square interval s sqrt(nu / chi2); assumes normal, independent readings (NIST/SEMATECH e-Handbook 7.2.3).</summary>
    /// <param name="standardDeviation">s, zero or more.</param>
    /// <param name="degreesOfFreedom">nu, above 0: n - 1 for one series.</param>
    /// <param name="confidence">Between 0 and 1; 0.95 unless said otherwise.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument is outside its range.</exception>
    public static SigmaInterval Of(double standardDeviation, double degreesOfFreedom, double confidence = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(standardDeviation);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(degreesOfFreedom);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(confidence);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(confidence, 1);
        double tail = (1 - confidence) / 2;
        return new SigmaInterval(
            confidence,
            standardDeviation * Math.Sqrt(degreesOfFreedom / ChiSquare.Quantile(1 - tail, degreesOfFreedom)),
            standardDeviation * Math.Sqrt(degreesOfFreedom / ChiSquare.Quantile(tail, degreesOfFreedom)));
    }
}
