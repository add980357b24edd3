namespace ProbeRunner.Machine.Guard;

/// <summary>The guard's opening for laying a first layer.</summary>
/// <param name="LayerHeightMm">Height of the layer; no line is laid below half of it.</param>
/// <param name="NudgedMm">Nudges so far, together; up is positive.</param>
public sealed record LayingMode(double LayerHeightMm, double NudgedMm)
{
    /// <summary>The lowest height at which a line may be laid, nudge included, mm.</summary>
    public double FloorZ => LayerHeightMm / 2;

    /// <summary>The highest, mm: plastic laid from higher does not reach the bed but the nozzle.</summary>
    public double TopZ => 2 * LayerHeightMm;
}
