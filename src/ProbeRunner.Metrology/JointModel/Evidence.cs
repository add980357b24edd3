using ProbeRunner.Metrology.LinearAlgebra;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>
/// Weighs settings of the unknown scales by how probable they make the readings. The trend is integrated out (restricted likelihood: the
/// readings are projected onto what no trend can explain); for each length and drift the projected covariance is made tridiagonal
/// once, after which every pair of departure and noise costs only n steps.
/// </summary>
internal sealed class Evidence(SurfaceModelOptions options, double repeatability, double repeatabilityLogSd)
{
    private const int Lengths = 13;
    private const double ShortestMm = 10;
    private const double LongestMm = 400;
    private const int Departures = 15;
    private const double SmallestDeparture = 1.0 / 30;
    private const double LargestDeparture = 20;
    private const int Noises = 10;
    private const double SmallestNoise = 0.5;
    private const double LargestNoise = 5;
    private const double LeastWeight = 0.03;

    private static readonly double[] DriftRatios = [0, 0.01, 0.1, 1];

    /// <summary>The settings that matter, most probable first, their weights adding up to one.</summary>
    /// <param name="observed">The readings.</param>
    /// <param name="most">How many settings to keep at most.</param>
    public IReadOnlyList<HyperParameters> Weigh(Observations observed, int most)
    {
        double[][] distances = observed.Distances();
        double[][] work = [.. distances.Select(row => new double[row.Length])];
        var candidates = new List<(HyperParameters Setting, double LogWeight)>();
        foreach (double driftRatio in observed.Time is null ? [0.0] : DriftRatios)
        {
            for (int k = 0; k < Lengths; k++)
            {
                double length = Step(ShortestMm, LongestMm, k, Lengths);
                candidates.Add(WeighScales(Project(observed, distances, work, length, driftRatio), length, driftRatio, observed.Time is not null));
            }
        }

        return Keep(candidates, most);
    }

    private static List<HyperParameters> Keep(List<(HyperParameters Setting, double LogWeight)> candidates, int most)
    {
        double best = candidates.Max(c => c.LogWeight);
        double total = candidates.Sum(c => Math.Exp(c.LogWeight - best));
        List<(HyperParameters Setting, double Weight)> kept =
        [
            .. candidates.Select(c => (c.Setting, Weight: Math.Exp(c.LogWeight - best) / total))
                .OrderByDescending(c => c.Weight).Where((c, rank) => rank == 0 || c.Weight >= LeastWeight).Take(most),
        ];
        double sum = kept.Sum(c => c.Weight);
        return [.. kept.Select(c => c.Setting with { Weight = c.Weight / sum })];
    }

    private static double Step(double first, double last, int k, int count) => first * Math.Pow(last / first, k / (count - 1.0));

    /// <summary>The correlation matrix without the trend's directions, tridiagonal, with the readings in the same coordinates.</summary>
    private static Tridiagonal Project(Observations observed, double[][] distances, double[][] work, double length, double driftRatio)
    {
        int count = observed.Count;
        for (int i = 0; i < count; i++)
        {
            Matern52.Fill(distances[i], length, work[i]);
            for (int j = 0; driftRatio > 0 && j <= i; j++)
            {
                work[i][j] += driftRatio * Math.Min(observed.Time![i], observed.Time[j]);
            }
        }

        double[][] columns = [.. observed.Columns.Select(column => (double[])column.Clone())];
        double[] values = (double[])observed.Z.Clone(), scratch = new double[count];
        int size = count;
        for (int k = 0; k < columns.Length; k++, size--)
        {
            double[] normal = columns[k][..size];
            (_, double factor) = Reflection.Normal(normal);
            if (factor > 0)
            {
                Reflection.ApplyToBothSides(work, normal, factor, scratch);
                Reflection.Apply(values, normal, factor);
                for (int later = k + 1; later < columns.Length; later++)
                {
                    Reflection.Apply(columns[later], normal, factor);
                }
            }
        }

        // The reflections act on ever shorter leading parts, but the rows below the leading block are never used again.
        return Tridiagonal.Reduce(work, values.AsSpan(0, size));
    }

    private (HyperParameters Setting, double LogWeight) WeighScales(Tridiagonal reduced, double length, double driftRatio, bool timed)
    {
        double[] logs = new double[Departures * Noises];
        double best = double.NegativeInfinity;
        for (int k = 0; k < logs.Length; k++)
        {
            (double departure, double noise) = Scales(k);
            logs[k] = reduced.LogLikelihood(departure * departure, noise * noise) + LogPrior(length, departure, noise, driftRatio, timed);
            best = Math.Max(best, logs[k]);
        }

        double total = 0, logDeparture = 0, logNoise = 0;
        for (int k = 0; k < logs.Length; k++)
        {
            double weight = Math.Exp(logs[k] - best);
            (double departure, double noise) = Scales(k);
            total += weight;
            logDeparture += weight * Math.Log(departure);
            logNoise += weight * Math.Log(noise);
        }

        return (
            new HyperParameters(length, Math.Exp(logDeparture / total), Math.Exp(logNoise / total), driftRatio, 0),
            best + Math.Log(total));
    }

    private (double Departure, double Noise) Scales(int k) => (
        options.DepartureMedianMm * Step(SmallestDeparture, LargestDeparture, k / Noises, Departures),
        repeatability * Step(SmallestNoise, LargestNoise, k % Noises, Noises));

    private double LogPrior(double length, double departure, double noise, double driftRatio, bool timed)
    {
        double log = Lognormal(length, options.LengthMedianMm, options.LengthLogSd)
            + Lognormal(departure, options.DepartureMedianMm, options.DepartureLogSd)
            + Lognormal(noise, repeatability, repeatabilityLogSd);
        if (!timed)
        {
            return log;
        }

        return driftRatio == 0
            ? log + Math.Log(options.NoDriftProbability)
            : log + Math.Log((1 - options.NoDriftProbability) / (DriftRatios.Length - 1))
                + Lognormal(Math.Sqrt(driftRatio) * departure, options.DriftMedianMm, 1);
    }

    private static double Lognormal(double value, double median, double logSd)
    {
        double deviation = Math.Log(value / median) / logSd;
        return -0.5 * deviation * deviation;
    }
}
