using System.Collections.Immutable;
using ProbeRunner.Metrology.Flatness;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Shapes;

namespace ProbeRunner.Metrology.Surfaces;

/// <summary>Everything that readings over a bed say without a model of it.</summary>
/// <param name="Count">Number of readings.</param>
/// <param name="Plane">Least-squares plane with its residuals.</param>
/// <param name="MinimumZone">Narrowest zone that holds all readings.</param>
/// <param name="Shape">Tilt, bow and twist; null when the places do not determine them.</param>
/// <param name="MeshAdequacy">What sparser meshes would have left, when the readings form a grid; empty otherwise.</param>
public sealed record SurfaceAnalysis(
    int Count, PlaneFit Plane, MinimumZone MinimumZone, ShapeTerms? Shape, ImmutableArray<MeshAdequacy> MeshAdequacy)
{
    /// <summary>Root mean square of the plane's residuals, divided by n, mm.</summary>
    public double Rms => Plane.Rms;

    /// <summary>Largest less smallest residual of the plane, mm (ISO 12781-1, least-squares reference plane).</summary>
    public double LeastSquaresFlatness => Plane.PeakToValley;

    /// <summary>Analyses readings. Refused for fewer than three, for numbers that are not finite and for places on one line.</summary>
    public static Answer<SurfaceAnalysis> Analyse(IReadOnlyList<SurfacePoint> points) =>
        PlaneFit.LeastSquares(points).Then(plane => Flatness.MinimumZone.Fit(points).Then<SurfaceAnalysis>(zone =>
            new SurfaceAnalysis(
                points.Count,
                plane,
                zone,
                ShapeTerms.Fit(points).OrElse(null),
                GridOfReadings.Recognise(points) is { } grid ? Meshes.MeshAdequacy.OfSparserMeshes(grid) : [])));
}
