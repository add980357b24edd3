using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Settling;

/// <summary>What is known beforehand of a machine that warms.</summary>
/// <param name="ShortestSeconds">Time constants are held possible from here.</param>
/// <param name="LongestSeconds">To here; a longer one looks like a steady drift and is covered by this.</param>
/// <param name="MovementMm">Standard deviation of the movement: heat rarely moves a bed by more than twice this.</param>
/// <param name="LeastSigmaMm">Readings scatter at least this much, however well they agree: the machine's step.</param>
public sealed record SettlingPrior(double ShortestSeconds = 20, double LongestSeconds = 3600, double MovementMm = 0.15, double LeastSigmaMm = 0.0007);

/// <summary>
/// How likely it is that a height still moves by more than a tolerance. The time constant is not estimated but weighed: each of many, evenly spread in
/// its logarithm, counts by how well it explains the readings (Bayes, normal prior of the movement, the end free), so that readings which could still be the
/// beginning of a slow drift are not taken for settled.
/// </summary>
public sealed class SettlingBelief
{
    private const int Fewest = 5;
    private const int Constants = 61;

    private readonly (double Tau, double Weight, double Movement, double Variance, double End, double EndVariance)[] _parts;
    private readonly double _first;
    private readonly double _last;

    private SettlingBelief((double Tau, double Weight, double Movement, double Variance, double End, double EndVariance)[] parts, double first, double last) =>
        (_parts, _first, _last) = (parts, first, last);

    /// <summary>Height that is approached.</summary>
    public double End => _parts.Sum(part => part.Weight * part.End);

    /// <summary>Its standard deviation.</summary>
    public double EndStandardDeviation => Math.Sqrt(Math.Max(0, _parts.Sum(part => part.Weight * (part.EndVariance + (part.End * part.End))) - (End * End)));

    /// <summary>Weighs five readings or more.</summary>
    /// <param name="times">s.</param>
    /// <param name="heights">mm, one a time.</param>
    /// <param name="prior">What is known beforehand; the usual when null.</param>
    public static Answer<SettlingBelief> Of(IReadOnlyList<double> times, IReadOnlyList<double> heights, SettlingPrior? prior = null)
    {
        if ((Finite.Check(times, Fewest, "A settling") ?? Finite.Check(heights, Fewest, "A settling")) is { } why)
        {
            return why;
        }

        SettlingPrior known = prior ?? new SettlingPrior();
        double first = times.Min(), last = times.Max();
        if (times.Count != heights.Count || !(last > first) || !(known.ShortestSeconds > 0 && known.LongestSeconds > known.ShortestSeconds && known.MovementMm > 0 && known.LeastSigmaMm > 0))
        {
            return Reason.OutOfRange("A settling needs one time a height, times that differ, and a prior whose numbers are above 0.");
        }

        double[] since = [.. times.Select(time => time - first)], observed = [.. heights];
        double[] logs = [.. Enumerable.Range(0, Constants).Select(at =>
            Math.Log(known.ShortestSeconds) + (Math.Log(known.LongestSeconds / known.ShortestSeconds) * at / (Constants - 1)))];
        double least = logs.Min(log => SettlingFit.Squares(since, observed, log));
        double variance = Math.Max(least / (observed.Length - 3), known.LeastSigmaMm * known.LeastSigmaMm);
        var parts = logs.Select(log => Part(since, observed, Math.Exp(log), variance, known.MovementMm)).ToArray();
        double most = parts.Max(part => part.LogWeight);
        double sum = parts.Sum(part => Math.Exp(part.LogWeight - most));
        return new SettlingBelief(
            [.. parts.Select(part => (part.Tau, Math.Exp(part.LogWeight - most) / sum, part.Movement, part.Variance, part.End, part.EndVariance))], first, last);
    }

    /// <summary>Probability that from a time on the height still moves by more than a tolerance.</summary>
    public double StillMoves(double time, double toleranceMm) => _parts.Sum(part =>
    {
        double left = Math.Exp(-(time - _first) / part.Tau), mean = part.Movement * left, deviation = Math.Sqrt(part.Variance) * left;
        return deviation > 0
            ? part.Weight * (StandardNormal.Above((toleranceMm - mean) / deviation) + StandardNormal.Below((-toleranceMm - mean) / deviation))
            : Math.Abs(mean) > toleranceMm ? part.Weight : 0;
    });

    /// <summary>The first time from which the height moves by no more than a tolerance, at a confidence.</summary>
    public double SettledBy(double toleranceMm, double confidence)
    {
        double low = _first, high = Math.Max(_last, _first + 1);
        while (StillMoves(high, toleranceMm) > 1 - confidence)
        {
            high = _first + (2 * (high - _first));
        }

        const double NarrowSeconds = 0.5;
        while (high - low > NarrowSeconds)
        {
            double middle = (low + high) / 2;
            (low, high) = StillMoves(middle, toleranceMm) > 1 - confidence ? (middle, high) : (low, middle);
        }

        return high;
    }

    /// <summary>Given a time constant the model is linear: y = end + movement x decay, the end free, the movement normal about 0 beforehand.</summary>
    private static (double Tau, double LogWeight, double Movement, double Variance, double End, double EndVariance) Part(
        double[] since, double[] observed, double tau, double variance, double priorMm)
    {
        int n = since.Length;
        double[] decay = [.. since.Select(t => Math.Exp(-t / tau))];
        double meanDecay = decay.Average(), mean = observed.Average();
        double along = decay.Sum(e => (e - meanDecay) * (e - meanDecay));
        double across = decay.Zip(observed, (e, z) => (e - meanDecay) * (z - mean)).Sum();
        double precision = (along / variance) + (1 / (priorMm * priorMm));
        double movement = across / variance / precision;
        double logWeight = 0.5 * ((movement * movement * precision) - Math.Log(precision * priorMm * priorMm));
        return (tau, logWeight, movement, 1 / precision, mean - (movement * meanDecay), (variance / n) + (meanDecay * meanDecay / precision));
    }
}
