using ProbeRunner.Benchmarks.BedSuite;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Tests.Meshes;

public sealed class MeshFitTests
{
    [Theory]
    [InlineData(3)]
    [InlineData(5)]
    [InlineData(8)]
    public void The_best_mesh_is_never_worse_than_the_sampled_one(int side)
    {
        foreach (SuiteBed bed in Suite.Beds(400, 10))
        {
            SurfaceMap truth = SurfaceMap.Of(bed.Box, 49, 49, bed.HeightAt);
            var grid = new MeshGrid(0, 0, bed.Side, bed.Side, side, side);
            MeshError sampled = MeshError.Of(CorrectionMesh.Sampled(grid, bed.HeightAt), truth, EdgeRule.Clamped);
            MeshError fitted = MeshError.Of(MeshFit.LeastSquares(grid, truth), truth, EdgeRule.Clamped);
            MinimaxMesh minimax = MeshFit.Minimax(grid, truth);
            MeshError least = MeshError.Of(minimax.Mesh, truth, EdgeRule.Clamped);

            Assert.True(fitted.Rms <= sampled.Rms + 1e-12);
            Assert.True(least.Worst <= sampled.Worst + 1e-12);
            Assert.True(least.Worst <= fitted.Worst + 1e-12);
            Assert.True(fitted.Rms <= least.Rms + 1e-12);
            Assert.InRange(least.Worst, minimax.LowerBoundMm - 1e-9, (minimax.LowerBoundMm * 1.01) + 1e-9);
        }
    }

    [Fact] // by hand: the best lines through a parabola of height h over a cell miss it by h/2 on both sides
    public void A_bowl_is_halved_by_the_minimax_fit()
    {
        SurfaceMap bowl = SurfaceMap.Of(new Box(0, 0, 120, 120), 121, 3, (x, _) => 2e-6 * x * x);
        MinimaxMesh mesh = MeshFit.Minimax(new MeshGrid(0, 0, 120, 120, 5, 2), bowl);

        // Sampled: a h^2 / 4 = 4.5e-4 at the middle of a cell of 30 mm; a broken line that may lie off the nodes: half of that.
        Assert.Equal(2.25e-4, MeshError.Of(mesh.Mesh, bowl, EdgeRule.Clamped).Worst, 1e-8);
    }

    [Theory]
    [InlineData(EdgeRule.Clamped)]
    [InlineData(EdgeRule.Extended)]
    public void A_surface_that_the_mesh_can_hold_is_held_even_beyond_the_nodes(EdgeRule edge)
    {
        var grid = new MeshGrid(30, 30, 190, 190, 4, 5);
        CorrectionMesh own = CorrectionMesh.Sampled(grid, (x, y) => Math.Sin(x / 40) + Math.Cos(y / 50));
        SurfaceMap map = SurfaceMap.Of(new Box(0, 0, 220, 220), 45, 45, (x, y) => own.HeightAt(x, y, edge));

        Assert.InRange(MeshError.Of(MeshFit.LeastSquares(grid, map, edge), map, edge).Worst, 0, 1e-6);
        Assert.InRange(MeshError.Of(MeshFit.Minimax(grid, map, edge).Mesh, map, edge).Worst, 0, 1e-6);
    }

    [Fact]
    public void The_smallest_mesh_within_a_tolerance_is_found_or_refused()
    {
        SurfaceMap ripple = SurfaceMap.Of(new Box(0, 0, 200, 200), 81, 81, (x, _) => 0.05 * Math.Cos(2 * Math.PI * x / 200));

        // One crest in the middle: a bent line of two pieces follows it to about a tenth of its height.
        CorrectionMesh mesh = MeshFit.Smallest(ripple, new Box(0, 0, 200, 200), 0.01, double.PositiveInfinity, 15, 15).Value;
        Assert.Equal(2, mesh.Grid.Rows);
        Assert.Equal(3, mesh.Grid.Columns);
        Assert.Equal(RefusalKind.Undetermined, MeshFit.Smallest(ripple, new Box(0, 0, 200, 200), 1e-6, 1e-6, 5, 5).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, MeshFit.Smallest(ripple, new Box(0, 0, 0, 200), 1e-6, 1e-6, 5, 5).Refusal!.Kind);
    }
}
