using ProbeRunner.Machine.Geometry;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Steps.Capture;

namespace ProbeRunner.Procedures.Steps.MeshHandOver;

/// <summary>
/// The bed as the nozzle will meet it while printing: the captured map, the change to the hot bed added, a lean along the gantry that was
/// seen for certain taken off. Heights are relative to the homing place.
/// </summary>
internal sealed class NozzleSurface(CapturedSurface captured, BeyondMap? change)
{
    private const int DenseSide = 61;

    /// <summary>The surface over a rectangle.</summary>
    public Metrology.Meshes.SurfaceMap Over(BedRectangle area)
    {
        Metrology.Meshes.SurfaceMap map = captured.Map(new Box(area.MinX, area.MinY, area.MaxX, area.MaxY), DenseSide, DenseSide).Heights;
        return new(map.Xs, map.Ys, [.. map.Heights.Select((height, index) => height + (change?.At(map.Xs[index % map.Xs.Length], map.Ys[index / map.Xs.Length]) ?? 0))]);
    }

    /// <summary>The mesh of a grid that comes nearest to the surface, and what it leaves.</summary>
    public (CorrectionMesh Mesh, MeshError Left) Fit(MeshGrid grid)
    {
        Metrology.Meshes.SurfaceMap map = Over(new BedRectangle(grid.MinX, grid.MinY, grid.MaxX, grid.MaxY));
        CorrectionMesh fitted = MeshFit.LeastSquares(grid, map);
        return (fitted, MeshError.Of(fitted, map, EdgeRule.Clamped));
    }
}
