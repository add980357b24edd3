namespace ProbeRunner.Metrology.JointModel;

/// <summary>What is known of one number.</summary>
/// <param name="Mean">Best value, mm.</param>
/// <param name="StandardDeviation">Its standard uncertainty, mm.</param>
public readonly record struct SurfaceEstimate(double Mean, double StandardDeviation)
{
    /// <summary>Mean and spread of several estimates that hold with given weights.</summary>
    internal static SurfaceEstimate Mix(IEnumerable<(double Weight, double Mean, double Variance)> parts)
    {
        double mean = 0, square = 0, total = 0;
        (double Weight, double Mean, double Variance)[] all = [.. parts];
        foreach ((double weight, double partMean, _) in all)
        {
            mean += weight * partMean;
            total += weight;
        }

        mean /= total;
        foreach ((double weight, double partMean, double variance) in all)
        {
            square += weight * (variance + ((partMean - mean) * (partMean - mean)));
        }

        return new SurfaceEstimate(mean, Math.Sqrt(square / total));
    }
}
