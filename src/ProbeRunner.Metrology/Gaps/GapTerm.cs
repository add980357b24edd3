namespace ProbeRunner.Metrology.Gaps;

/// <summary>What one effect does to the gap at one place.</summary>
/// <param name="Name">What people call the effect.</param>
/// <param name="ExpectedMm">Expected change of the gap, mm; above 0 widens it.</param>
/// <param name="StandardUncertaintyMm">Standard uncertainty of that change, mm.</param>
/// <param name="DegreesOfFreedom">Of the standard uncertainty; null when unlimited.</param>
public sealed record GapTerm(string Name, double ExpectedMm, double StandardUncertaintyMm, double? DegreesOfFreedom = null);

/// <summary>Something that makes the gap differ from the first-layer height that was set.</summary>
public interface IGapEffect
{
    /// <summary>What the effect does at a place of the bed, in bed coordinates, mm.</summary>
    GapTerm At(double xMm, double yMm);
}
