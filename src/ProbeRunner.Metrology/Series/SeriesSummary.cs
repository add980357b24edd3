using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Series;

/// <summary>The plain figures of a series of readings at one place, in the unit of the readings.</summary>
/// <param name="Count">Number of readings, two or more.</param>
/// <param name="Mean">Arithmetic mean.</param>
/// <param name="Median">Middle reading.</param>
/// <param name="StandardDeviation">Long-term: about the mean, with n - 1.</param>
/// <param name="Range">Largest less smallest.</param>
/// <param name="RobustScale">Median absolute deviation times 1.4826: the standard deviation if normal, whatever a few outliers do.</param>
/// <param name="ShortTermStandardDeviation">From successive differences, sqrt(sum d^2 / (2 (n - 1))): drift hardly enters.</param>
/// <param name="MovingRangeStandardDeviation">Mean of |successive difference| / 1.128379: as above, less moved by an outlier.</param>
/// <param name="Lag1Autocorrelation">-1 to 1; null when all readings are equal.</param>
/// <param name="VonNeumannRatio">Sum of squared successive differences over sum of squared deviations; 2 for independent readings; null when all are equal.</param>
public sealed record SeriesSummary(
    int Count,
    double Mean,
    double Median,
    double StandardDeviation,
    double Range,
    double RobustScale,
    double ShortTermStandardDeviation,
    double MovingRangeStandardDeviation,
    double? Lag1Autocorrelation,
    double? VonNeumannRatio)
{
    /// <summary>1 / the 75 % quantile of the standard normal: makes the median absolute deviation estimate a normal's sigma.</summary>
    private const double NormalConsistency = 1.482602218505602;

    /// <summary>2 / sqrt(pi), the mean range of two standard normal values.</summary>
    private const double MeanRangeOfTwo = 1.1283791670955126;

    /// <summary>
    /// Summarises readings in the order in which they were taken; refused for fewer than two or any that is not finite.
    /// Autocorrelation as in NIST StRD univariate; ratio after von Neumann 1941.
    /// </summary>
    public static Answer<SeriesSummary> Of(IReadOnlyList<double> readings)
    {
        if (Finite.Check(readings, 2, "A summary") is { } why)
        {
            return why;
        }

        int count = readings.Count;
        double mean = Moments.Mean(readings);
        double median = Moments.Median(readings);
        double squares = Moments.SquaredDeviations(readings);
        double products = Moments.Sum(count - 1, i => (readings[i] - mean) * (readings[i + 1] - mean));
        double squaredSteps = Moments.Sum(count - 1, i => Math.Pow(readings[i + 1] - readings[i], 2));
        double steps = Moments.Sum(count - 1, i => Math.Abs(readings[i + 1] - readings[i]));
        var summary = new SeriesSummary(
            count,
            mean,
            median,
            Math.Sqrt(squares / (count - 1)),
            readings.Max() - readings.Min(),
            NormalConsistency * Moments.Median([.. readings.Select(r => Math.Abs(r - median))]),
            Math.Sqrt(squaredSteps / (2 * (count - 1))),
            steps / (count - 1) / MeanRangeOfTwo,
            squares > 0 ? products / squares : null,
            squares > 0 ? squaredSteps / squares : null);
        return summary.IsFinite ? summary : Reason.OutOfRange("The readings are too large to be summed.");
    }

    private bool IsFinite =>
        double.IsFinite(Mean) && double.IsFinite(StandardDeviation) && double.IsFinite(Range) && double.IsFinite(RobustScale)
        && double.IsFinite(ShortTermStandardDeviation) && double.IsFinite(MovingRangeStandardDeviation)
        && double.IsFinite(Lag1Autocorrelation ?? 0) && double.IsFinite(VonNeumannRatio ?? 0);
}
