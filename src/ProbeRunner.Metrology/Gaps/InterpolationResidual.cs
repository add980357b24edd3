namespace ProbeRunner.Metrology.Gaps;

/// <summary>What the controller's correction mesh leaves of the bed's shape at each place.</summary>
/// <param name="MeshMinusBedMm">
/// Interpolated mesh less the fitted surface at (x, y), mm: a mesh that stands above the bed widens the gap.
/// </param>
/// <param name="SurfaceStandardUncertaintyMm">Standard uncertainty of the fitted surface at (x, y), mm.</param>
public sealed record InterpolationResidual(
    Func<double, double, double> MeshMinusBedMm,
    Func<double, double, double> SurfaceStandardUncertaintyMm) : IGapEffect
{
    /// <inheritdoc/>
    public GapTerm At(double xMm, double yMm) =>
        new("interpolation", MeshMinusBedMm(xMm, yMm), SurfaceStandardUncertaintyMm(xMm, yMm));
}
