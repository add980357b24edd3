namespace ProbeRunner.Metrology.JointModel;

/// <summary>One setting of the model's unknown scales.</summary>
/// <param name="Length">Length over which the departures from the trend change, mm.</param>
/// <param name="Departure">Standard deviation of the departures, mm.</param>
/// <param name="Noise">Standard deviation of one touch about the smooth surface, fine structure included, mm.</param>
/// <param name="DriftRatio">Variance of the drift at the end of the capture, as a part of the departures' variance.</param>
/// <param name="Weight">Posterior probability among the settings kept.</param>
internal readonly record struct HyperParameters(double Length, double Departure, double Noise, double DriftRatio, double Weight)
{
    /// <summary>Standard deviation of the field of local bumps that sparse readings would not notice, mm.</summary>
    public double Bump { get; init; }

    /// <summary>Length over which such bumps change, mm.</summary>
    public double BumpLength { get; init; } = 1;

    /// <summary>Standard deviation of the drift at the end of the capture, mm.</summary>
    public double Drift => Math.Sqrt(DriftRatio) * Departure;
}
