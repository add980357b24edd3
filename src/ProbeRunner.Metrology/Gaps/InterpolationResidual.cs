using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Meshes;

namespace ProbeRunner.Metrology.Gaps;

/// <summary>What the controller's correction mesh leaves of the bed's shape at each place. Both heights are in the same datum.</summary>
/// <param name="MeshHeightMm">Interpolated mesh at (x, y), mm: where it stands above the bed it widens the gap.</param>
/// <param name="BedHeightMm">The bed at (x, y), mm, with its standard uncertainty.</param>
public sealed record InterpolationResidual(
    Func<double, double, double> MeshHeightMm,
    Func<double, double, SurfaceEstimate> BedHeightMm) : IGapEffect
{
    /// <summary>A mesh against what a capture says about the bed, with the mesh's zero moved to the place where Z was homed.</summary>
    /// <param name="mesh">As the controller holds it.</param>
    /// <param name="edge">What the controller does outside the nodes.</param>
    /// <param name="surface">The joint model of the capture.</param>
    /// <param name="homeXMm">Bed X where Z is homed: there mesh and bed are 0 by definition.</param>
    /// <param name="homeYMm">Bed Y where Z is homed.</param>
    public static InterpolationResidual Of(CorrectionMesh mesh, EdgeRule edge, SurfacePosterior surface, double homeXMm, double homeYMm)
    {
        ArgumentNullException.ThrowIfNull(mesh);
        ArgumentNullException.ThrowIfNull(surface);
        double meshZero = mesh.HeightAt(homeXMm, homeYMm, edge);
        double bedZero = surface.Predict(homeXMm, homeYMm).Mean;
        return new InterpolationResidual((x, y) => mesh.HeightAt(x, y, edge) - meshZero, Bed);

        SurfaceEstimate Bed(double x, double y)
        {
            SurfaceEstimate height = surface.Predict(x, y);
            return height with { Mean = height.Mean - bedZero };
        }
    }

    /// <inheritdoc/>
    public GapTerm At(double xMm, double yMm)
    {
        SurfaceEstimate bed = BedHeightMm(xMm, yMm);
        return new GapTerm("interpolation", MeshHeightMm(xMm, yMm) - bed.Mean, bed.StandardDeviation);
    }
}
