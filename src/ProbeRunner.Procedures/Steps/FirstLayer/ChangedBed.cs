using ProbeRunner.Metrology.Gaps;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.FirstLayer;

/// <summary>What the mesh knows of the hot bed and of a lean beyond the captured map: where the bed is higher than the map, the gap is narrower.</summary>
internal sealed record ChangedBed(BeyondMap Change) : IGapEffect
{
    /// <inheritdoc />
    public GapTerm At(double xMm, double yMm) => new("bed against map", -Change.At(xMm, yMm), Change.StandardUncertaintyMm);
}
