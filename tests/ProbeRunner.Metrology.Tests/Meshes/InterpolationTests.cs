using System.Collections.Immutable;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Tests.Data;

namespace ProbeRunner.Metrology.Tests.Meshes;

public sealed class InterpolationTests
{
    [Theory] // scipy 1.10.1 RegularGridInterpolator, RectBivariateSpline and CubicSpline on R datasets::volcano
    [InlineData(2, .6086506726, 4.5, .5607483071, 4.5291840, .5557480287, 4.5473989)]
    [InlineData(3, .9852284726, 5.4444444, .8180402029, 5.0034089, .8055416207, 4.8617998)]
    [InlineData(4, 1.3270594065, 6.5, 1.0762172457, 5.1893803, 1.0553793862, 5.1697706)]
    [InlineData(6, 2.1812633169, 10.5, 1.7048867800, 6.9443960, 1.5305740058, 6.6091151)]
    [InlineData(12, 5.8377014999, 25.5, 6.7597255566, 25.3451310, 5.4379159464, 23.1105270)]
    public void The_errors_of_sparser_meshes_are_those_of_scipy(
        int k, double rms, double worst, double notAKnotRms, double notAKnotWorst, double naturalRms, double naturalWorst)
    {
        SurfaceMap dense = Volcano.KeepingEvery(1), sparse = Volcano.KeepingEvery(k);
        var mesh = new CorrectionMesh(
            new MeshGrid(0, 0, 84, 60, sparse.Xs.Length, sparse.Ys.Length), sparse.Heights);

        MeshError bilinear = MeshError.Of(mesh, dense, EdgeRule.Clamped);
        MeshError notAKnot = Of(new CubicSurface(sparse, SplineEnds.NotAKnot), dense);
        MeshError natural = Of(new CubicSurface(sparse, SplineEnds.Natural), dense);

        Assert.Equal(rms, bilinear.Rms, 1e-10);
        Assert.Equal(worst, bilinear.Worst, 1e-7);
        Assert.Equal(notAKnotRms, notAKnot.Rms, 1e-9);
        Assert.Equal(notAKnotWorst, notAKnot.Worst, 1e-6);
        Assert.Equal(naturalRms, natural.Rms, 1e-9);
        Assert.Equal(naturalWorst, natural.Worst, 1e-6);
    }

    [Theory] // scipy 1.10.1 on every twelfth node of R datasets::volcano
    [InlineData(10.5, 20.25, 143.6796875, 143.9721123790, 143.7186898320)]
    [InlineData(42, 30, 165, 171.1127878289, 171.6732765011)]
    [InlineData(70.7, 55.1, 97.25965278, 94.2513541661, 95.7505415758)]
    public void Heights_between_the_nodes_are_those_of_scipy(double i, double j, double bilinear, double notAKnot, double natural)
    {
        SurfaceMap sparse = Volcano.KeepingEvery(12);
        var mesh = new CorrectionMesh(new MeshGrid(0, 0, 84, 60, 8, 6), sparse.Heights);

        Assert.Equal(bilinear, mesh.HeightAt(i, j, EdgeRule.Clamped), 1e-8);
        Assert.Equal(notAKnot, new CubicSurface(sparse, SplineEnds.NotAKnot).HeightAt(i, j), 1e-9);
        Assert.Equal(natural, new CubicSurface(sparse, SplineEnds.Natural).HeightAt(i, j), 1e-9);
    }

    [Fact] // by hand: the largest error of bilinear interpolation of a x^2 + b y^2 is (a + b) h^2 / 4 at the middle of a cell
    public void A_bowl_is_missed_by_a_quarter_of_its_curvature_times_the_squared_step()
    {
        static double Bowl(double x, double y) => (2e-6 * x * x) + (1e-6 * y * y);
        CorrectionMesh mesh = CorrectionMesh.Sampled(new MeshGrid(0, 0, 120, 120, 5, 5), Bowl);
        MeshError error = MeshError.Of(mesh, SurfaceMap.Of(new Box(0, 0, 120, 120), 121, 121, Bowl), EdgeRule.Clamped);

        Assert.Equal(6.75e-4, error.Worst, 1e-15);
        Assert.Equal(15, error.WorstX % 30);
        Assert.Equal(15, error.WorstY % 30);
    }

    [Theory] // by hand: 1 - cos(pi/n) for n nodes a wavelength, both nodes beside a crest
    [InlineData(4, .2928932)]
    [InlineData(6, .1339746)]
    [InlineData(8, .0761205)]
    [InlineData(10, .0489435)]
    [InlineData(12, .0340742)]
    public void A_ripple_is_missed_by_what_its_nodes_a_wavelength_say(int nodesPerWavelength, double worst)
    {
        // The crest lies at the middle of a cell: nodes at (k + 1/2) steps from it.
        double step = 10, wavelength = nodesPerWavelength * step;
        double Ripple(double x, double y) => Math.Cos(2 * Math.PI * (x - 5) / wavelength);
        CorrectionMesh mesh = CorrectionMesh.Sampled(new MeshGrid(0, 0, step * nodesPerWavelength, 10, nodesPerWavelength + 1, 2), Ripple);
        MeshError error = MeshError.Of(mesh, SurfaceMap.Of(new Box(0, 0, step * nodesPerWavelength, 10), (10 * nodesPerWavelength) + 1, 2, Ripple), EdgeRule.Clamped);

        Assert.Equal(worst, error.Worst, 1e-7);
    }

    [Fact]
    public void Outside_the_mesh_a_clamped_edge_stays_and_an_extended_one_goes_on()
    {
        CorrectionMesh mesh = CorrectionMesh.Sampled(new MeshGrid(20, 20, 200, 200, 4, 3), (x, y) => (0.001 * x) + (0.002 * y));

        Assert.Equal(0.02 + 0.08, mesh.HeightAt(0, 40, EdgeRule.Clamped), 1e-12);
        Assert.Equal(0 + 0.08, mesh.HeightAt(0, 40, EdgeRule.Extended), 1e-12);
        Assert.Equal(0.2 + 0.4, mesh.HeightAt(230, 260, EdgeRule.Clamped), 1e-12);
        Assert.Equal(0.23 + 0.52, mesh.HeightAt(230, 260, EdgeRule.Extended), 1e-12);
    }

    [Fact]
    public void Readings_that_are_no_full_grid_are_not_taken_for_one()
    {
        SurfacePoint[] grid = Beds.SevenBySeven;

        Assert.NotNull(GridOfReadings.Recognise(grid));
        Assert.Null(GridOfReadings.Recognise(grid[1..]));
        Assert.Null(GridOfReadings.Recognise([.. grid[1..], grid[5]]));
        Assert.Null(GridOfReadings.Recognise([.. grid, new SurfacePoint(1, 1, 0)]));
    }

    private static MeshError Of(CubicSurface surface, SurfaceMap dense)
    {
        ImmutableArray<double> heights = surface.OnLattice(dense.Xs, dense.Ys).Heights;
        return MeshError.Of((x, y) => heights[((int)y * dense.Xs.Length) + (int)x], dense);
    }
}
