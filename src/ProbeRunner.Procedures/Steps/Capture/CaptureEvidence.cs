using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Shapes;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>Gathers the details of a finished capture from its tally and its fitted surface.</summary>
internal static class CaptureEvidence
{
    /// <summary>What a mesh may leave of the bed, rms: a tenth of a usual first layer.</summary>
    private const double MeshToleranceRmsMm = 0.02;

    private const int MostMeshSide = 15;
    private const int DriftPoints = 25;

    /// <summary>The details.</summary>
    public static CaptureDetails Of(CaptureTally tally, CapturedSurface surface, UncertainMap map, ShapeTerms? shape, MachineProfile profile, CaptureGoal? goal)
    {
        TimeSpan duration = tally.Counting.Max(reading => reading.At) - tally.Counting.Min(reading => reading.At);
        SurfacePosterior posterior = surface.Posterior;
        return new CaptureDetails(
            tally.Touches,
            tally.OutlierCount,
            [.. tally.Outliers],
            tally.FreedomWithin > 0 ? tally.SigmaWithinMm : null,
            duration,
            DriftOf(posterior, duration),
            posterior.DriftProbability,
            [.. posterior.EpochOffsets.Select(epoch => new DatumStep(epoch.Epoch, epoch.Offset.Mean, epoch.Offset.StandardDeviation))],
            ShapeOf(shape),
            MeshOf(surface, map.Heights, profile.Mesh),
            map.RmsStandardDeviation,
            goal);
    }

    private static ImmutableArray<DriftPoint> DriftOf(SurfacePosterior posterior, TimeSpan duration) => duration <= TimeSpan.Zero
        ? []
        : [.. Enumerable.Range(0, DriftPoints).Select(index =>
        {
            TimeSpan since = duration * index / (DriftPoints - 1);
            SurfaceEstimate drift = posterior.Drift(since.TotalSeconds);
            return new DriftPoint(since, drift.Mean, drift.StandardDeviation);
        })];

    private static ImmutableArray<ShapeLine> ShapeOf(ShapeTerms? shape) => shape is null
        ? []
        :
        [
            new("rise from left to right", shape.TiltX.Coefficient, shape.TiltX.StandardError),
            new("rise from front to back", shape.TiltY.Coefficient, shape.TiltY.StandardError),
            new("hollow from left to right", shape.BowX.Coefficient, shape.BowX.StandardError),
            new("hollow from front to back", shape.BowY.Coefficient, shape.BowY.StandardError),
            new("twist", shape.Twist.Coefficient, shape.Twist.StandardError),
        ];

    /// <summary>Null where the capture doesn't cover the machine's own mesh.</summary>
    private static MeshNeed? MeshOf(CapturedSurface surface, Metrology.Meshes.SurfaceMap map, MeshProfile own)
    {
        var captured = new BedRectangle(map.Xs[0], map.Ys[0], map.Xs[^1], map.Ys[^1]);
        if (captured.Intersect(own.Area) != own.Area)
        {
            return null;
        }

        var nodes = new Box(own.Area.MinX, own.Area.MinY, own.Area.MaxX, own.Area.MaxY);
        var grid = new MeshGrid(nodes.MinX, nodes.MinY, nodes.MaxX, nodes.MaxY, own.Columns, own.Rows);
        CorrectionMesh? smallest = MeshFit.Smallest(map, nodes, MeshToleranceRmsMm, double.PositiveInfinity, MostMeshSide, MostMeshSide).OrElse(null);
        return new MeshNeed(
            MeshToleranceRmsMm,
            smallest?.Grid.Columns ?? 0,
            smallest?.Grid.Rows ?? 0,
            own.Columns,
            own.Rows,
            MeshError.Of(MeshFit.LeastSquares(grid, map), map, EdgeRule.Clamped).Rms,
            MeshError.Of(CorrectionMesh.Sampled(grid, surface.HeightAt), map, EdgeRule.Clamped).Rms);
    }
}
