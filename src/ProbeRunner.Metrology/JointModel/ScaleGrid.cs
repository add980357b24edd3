namespace ProbeRunner.Metrology.JointModel;

/// <summary>
/// Integrates the likelihood over the departures' size and the noise. Both run in equal logarithmic steps, so that the many pairs share few ratios,
/// and only a new ratio costs a pass over the readings.
/// </summary>
internal sealed class ScaleGrid(SurfaceModelOptions options, double repeatability, double repeatabilityLogSd)
{
    private const double Step = 1.35;
    private const int Departures = 22;
    private const int FirstDeparture = -11;
    private const int Noises = 8;
    private const int FirstNoise = -2;

    /// <summary>The setting that stands for one length and drift, and the logarithm of its probability up to a constant.</summary>
    public (HyperParameters Setting, double LogWeight) Weigh(IReducedLikelihood likelihood, double length, double driftRatio, Func<double, double> logPriorOfDeparture)
    {
        double[] departures = [.. Enumerable.Range(FirstDeparture, Departures).Select(i => options.DepartureMedianMm * Math.Pow(Step, i))];
        double[] noises = [.. Enumerable.Range(FirstNoise, Noises).Select(j => repeatability * Math.Pow(Step, j))];
        double[] priors = [.. departures.Select(d => LogDeparture(d) + logPriorOfDeparture(d))];
        double[] noisePriors = [.. noises.Select(n => Lognormal(n, repeatability, repeatabilityLogSd))];
        var logs = new double[Departures * Noises];
        double best = double.NegativeInfinity;
        for (int difference = 1 - Departures; difference < Noises; difference++)
        {
            // Pairs (i, j) with j - i = difference have one ratio.
            double ratio = Math.Pow(repeatability / options.DepartureMedianMm * Math.Pow(Step, difference + FirstNoise - FirstDeparture), 2);
            (double logDeterminant, double quadratic) = likelihood.At(ratio);
            for (int j = Math.Max(0, difference); j < Noises && j - difference < Departures; j++)
            {
                int i = j - difference;
                double variance = departures[i] * departures[i];
                double log = (-0.5 * ((likelihood.Freedom * Math.Log(variance)) + logDeterminant + (quadratic / variance))) + priors[i] + noisePriors[j];
                logs[(i * Noises) + j] = log;
                best = Math.Max(best, log);
            }
        }

        double total = 0, departure = 0, noise = 0;
        for (int k = 0; k < logs.Length; k++)
        {
            double weight = Math.Exp(logs[k] - best);
            total += weight;
            departure += weight * departures[k / Noises] * departures[k / Noises];
            noise += weight * noises[k % Noises] * noises[k % Noises];
        }

        return (new HyperParameters(length, Math.Sqrt(departure / total), Math.Sqrt(noise / total), driftRatio, 0), best + Math.Log(total));
    }

    /// <summary>Logarithm of the probability of a length before any reading, up to a constant.</summary>
    public double LogLength(double length) => Lognormal(length, options.LengthMedianMm, options.LengthLogSd);

    internal static double Lognormal(double value, double median, double logSd)
    {
        double deviation = Math.Log(value / median) / logSd;
        return -0.5 * deviation * deviation;
    }

    private double LogDeparture(double departure) => Lognormal(departure, options.DepartureMedianMm, options.DepartureLogSd);
}
