using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Series;

/// <summary>The mean of a series and how well it is known when neighbours resemble each other.</summary>
/// <param name="Mean">In the unit of the readings.</param>
/// <param name="StandardError">s / sqrt(n), widened by the autocorrelation.</param>
/// <param name="EffectiveCount">The number of independent readings that would be worth as much; at most the count.</param>
/// <param name="Lower">Lower limit.</param>
/// <param name="Upper">Upper limit.</param>
/// <param name="Confidence">0 to 1.</param>
public sealed record MeanInterval(double Mean, double StandardError, double EffectiveCount, double Lower, double Upper, double Confidence)
{
    /// <summary>The interval of the mean; two readings or more. A negative autocorrelation is not used to narrow it.</summary>
    public static Answer<MeanInterval> Of(IReadOnlyList<double> readings, double confidence = 0.95) => SeriesSummary.Of(readings).Then<MeanInterval>(summary =>
    {
        double inflation = VarianceInflation(summary.Count, Math.Clamp(summary.Lag1Autocorrelation ?? 0, 0, 0.99));
        double effective = summary.Count / inflation;
        double error = summary.StandardDeviation * Math.Sqrt(inflation / summary.Count);
        double half = error * StudentT.Quantile((1 + confidence) / 2, Math.Max(1, effective - 1));
        return new MeanInterval(summary.Mean, error, effective, summary.Mean - half, summary.Mean + half, confidence);
    });

    /// <summary>
    /// How much larger the variance of a mean of <paramref name="count"/> readings is than s^2 / n when each resembles its
    /// predecessor: 1 + 2 sum (1 - k/n) rho^k, a first-order autoregression assumed.
    /// </summary>
    public static double VarianceInflation(int count, double lag1Autocorrelation)
    {
        double sum = 0;
        double power = 1;
        for (int lag = 1; lag < count && Math.Abs(power) > 1e-18; lag++)
        {
            power *= lag1Autocorrelation;
            sum += (1 - ((double)lag / count)) * power;
        }

        return 1 + (2 * sum);
    }
}
