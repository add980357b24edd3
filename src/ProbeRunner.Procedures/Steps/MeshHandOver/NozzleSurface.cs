using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Shapes;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Steps.Capture;

namespace ProbeRunner.Procedures.Steps.MeshHandOver;

/// <summary>
/// The bed as the nozzle will meet it while printing: the captured map, the change to the hot bed added, a lean along the gantry that was
/// seen for certain taken off. Heights are relative to the homing place.
/// </summary>
internal sealed class NozzleSurface(MachineProfile profile, CapturedSurface captured, ShapeTerms? hot, LeanConclusion? lean)
{
    private const int DenseSide = 61;

    /// <summary>The axes whose lean is taken off.</summary>
    public IEnumerable<LeanAlongAxis> Leans => lean?.Axes.Where(axis => axis.IsSeen) ?? [];

    /// <summary>The surface over a rectangle.</summary>
    public Metrology.Meshes.SurfaceMap Over(BedRectangle area)
    {
        Metrology.Meshes.SurfaceMap map = captured.Map(new Box(area.MinX, area.MinY, area.MaxX, area.MaxY), DenseSide, DenseSide).Heights;
        return new(map.Xs, map.Ys, [.. map.Heights.Select((height, index) => height + ChangeAt(map.Xs[index % map.Xs.Length], map.Ys[index / map.Xs.Length]))]);
    }

    /// <summary>The mesh of a grid that comes nearest to the surface, and what it leaves.</summary>
    public (CorrectionMesh Mesh, MeshError Left) Fit(MeshGrid grid)
    {
        Metrology.Meshes.SurfaceMap map = Over(new BedRectangle(grid.MinX, grid.MinY, grid.MaxX, grid.MaxY));
        CorrectionMesh fitted = MeshFit.LeastSquares(grid, map);
        return (fitted, MeshError.Of(fitted, map, EdgeRule.Clamped));
    }

    private double ChangeAt(double x, double y)
    {
        BedPoint home = profile.Travel.HomingPlace;
        double warm = hot is null ? 0 : hot.HeightAt(x, y) - hot.HeightAt(home.X, home.Y);
        return warm - Leans.Sum(axis => axis.SlopeMmPerMm * ((axis.Axis == "X" ? x : y) - axis.OriginMm));
    }
}
