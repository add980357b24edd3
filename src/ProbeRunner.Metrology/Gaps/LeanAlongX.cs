namespace ProbeRunner.Metrology.Gaps;

/// <summary>
/// Change of the nozzle-to-trigger distance along the gantry. A correction mesh made of readings carries it, the nozzle does not need it:
/// where the probe triggers later than at the place of the offset, the mesh lifts the nozzle by the difference.
/// </summary>
/// <param name="SlopeMmPerMm">Growth of the nozzle's height at the trigger for each mm along X.</param>
/// <param name="SlopeStandardUncertainty">Of the slope, mm per mm.</param>
/// <param name="OffsetNozzleXMm">Nozzle X at which the Z offset was found.</param>
/// <param name="ProbeOffsetXMm">Probe minus nozzle along X: the reading under a place is taken with the nozzle at x less this.</param>
/// <param name="Corrected">Whether the mesh has been corrected for the slope; its uncertainty stays.</param>
/// <param name="DegreesOfFreedom">Of the slope's uncertainty; null when unlimited.</param>
public sealed record LeanAlongX(
    double SlopeMmPerMm,
    double SlopeStandardUncertainty,
    double OffsetNozzleXMm,
    double ProbeOffsetXMm,
    bool Corrected,
    double? DegreesOfFreedom = null) : IGapEffect
{
    /// <inheritdoc/>
    public GapTerm At(double xMm, double yMm)
    {
        double reach = xMm - ProbeOffsetXMm - OffsetNozzleXMm;
        return new GapTerm(
            "lean along X",
            Corrected ? 0 : SlopeMmPerMm * reach,
            SlopeStandardUncertainty * Math.Abs(reach),
            DegreesOfFreedom);
    }
}
