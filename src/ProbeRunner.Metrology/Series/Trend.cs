using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Series;

/// <summary>Drift: a straight line through the readings over time or over their ordinal.</summary>
/// <param name="SlopePerUnit">Least-squares slope, unit of the readings per unit of time (per reading when no times were given).</param>
/// <param name="Intercept">Height of the line at time 0 (the first reading when no times were given).</param>
/// <param name="SlopeStandardError">Standard error of the slope; null with fewer than three readings.</param>
/// <param name="SlopeLower">Lower 95 % limit of the slope; null as above.</param>
/// <param name="SlopeUpper">Upper 95 % limit of the slope; null as above.</param>
/// <param name="ResidualStandardDeviation">Scatter about the line, n - 2; null as above.</param>
public sealed record Trend(
    double SlopePerUnit,
    double Intercept,
    double? SlopeStandardError,
    double? SlopeLower,
    double? SlopeUpper,
    double? ResidualStandardDeviation)
{
    /// <summary>Fits over the ordinal of the reading: 0, 1, 2, ...</summary>
    public static Answer<Trend> Of(IReadOnlyList<double> readings) =>
        readings is null ? throw new ArgumentNullException(nameof(readings)) : Of([.. Enumerable.Range(0, readings.Count).Select(i => (double)i)], readings);

    /// <summary>Fits over <paramref name="times"/>; two readings at different times or more.</summary>
    public static Answer<Trend> Of(IReadOnlyList<double> times, IReadOnlyList<double> readings)
    {
        if ((Finite.Check(times, 2, "A trend") ?? Finite.Check(readings, 2, "A trend")) is { } why)
        {
            return why;
        }

        if (times.Count != readings.Count)
        {
            return Reason.OutOfRange("A trend needs one time per reading.");
        }

        double meanTime = Moments.Mean(times);
        double mean = Moments.Mean(readings);
        double squares = Moments.Sum(times.Count, i => (times[i] - meanTime) * (times[i] - meanTime));
        if (squares <= 0)
        {
            return Reason.Undetermined("A trend needs readings at different times.");
        }

        double slope = Moments.Sum(times.Count, i => (times[i] - meanTime) * (readings[i] - mean)) / squares;
        double intercept = mean - (slope * meanTime);
        int freedom = readings.Count - 2;
        if (freedom < 1)
        {
            return new Trend(slope, intercept, null, null, null, null);
        }

        double residual = Math.Sqrt(Moments.Sum(times.Count, i => Math.Pow(readings[i] - mean - (slope * (times[i] - meanTime)), 2)) / freedom);
        double error = residual / Math.Sqrt(squares);
        double half = error * StudentT.Quantile(0.975, freedom);
        return double.IsFinite(residual)
            ? new Trend(slope, intercept, error, slope - half, slope + half, residual)
            : Reason.OutOfRange("The readings are too large to be summed.");
    }
}
