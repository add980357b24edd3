using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Series;

/// <summary>Whether readings know of each other.</summary>
/// <param name="Autocorrelations">At lags 1, 2, ...</param>
/// <param name="Band">A single autocorrelation of independent readings stays within plus or minus this 95 % of the time (e-Handbook 1.3.5.12).</param>
/// <param name="LjungBox">n (n + 2) sum r_k^2 / (n - k) (Ljung and Box 1978).</param>
/// <param name="LjungBoxPValue">By chi-square with one degree of freedom per lag.</param>
public sealed record Autocorrelation(IReadOnlyList<double> Autocorrelations, double Band, double LjungBox, double LjungBoxPValue)
{
    /// <summary>Autocorrelations of readings in the order taken; four that differ, or more.</summary>
    /// <param name="readings">In the order taken.</param>
    /// <param name="lags">One or more, below the number of readings; one lag when null.</param>
    public static Answer<Autocorrelation> Of(IReadOnlyList<double> readings, int lags = 1)
    {
        if (Finite.Check(readings, 4, "An autocorrelation") is { } why)
        {
            return why;
        }

        int n = readings.Count;
        if (lags < 1 || lags >= n)
        {
            return Reason.OutOfRange("An autocorrelation needs at least one lag, and fewer lags than readings.");
        }

        double mean = Moments.Mean(readings);
        double squares = Moments.SquaredDeviations(readings);
        if (!(squares > 0) || !double.IsFinite(squares))
        {
            return Reason.Constant("An autocorrelation");
        }

        double[] r = [.. Enumerable.Range(1, lags).Select(k =>
            Moments.Sum(n - k, i => (readings[i] - mean) * (readings[i + k] - mean)) / squares)];
        double q = n * (n + 2.0) * Moments.Sum(lags, k => r[k] * r[k] / (n - k - 1));
        return new Autocorrelation(r, 1.959963984540054 / Math.Sqrt(n), q, ChiSquare.Above(q, lags));
    }
}
