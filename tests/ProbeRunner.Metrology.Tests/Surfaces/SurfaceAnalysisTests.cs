using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Surfaces;
using ProbeRunner.Metrology.Tests.Data;

namespace ProbeRunner.Metrology.Tests.Surfaces;

public sealed class SurfaceAnalysisTests
{
    [Fact] // R 4.2.2 lm, scipy 1.10.1 HiGHS and RegularGridInterpolator on R datasets::volcano
    public void The_analysis_gathers_what_the_parts_say()
    {
        SurfaceAnalysis analysis = SurfaceAnalysis.Analyse(Beds.SevenBySeven).Value;

        Assert.Equal(49, analysis.Count);
        Assert.Equal(0.02372374587, analysis.Rms, 1e-11);
        Assert.Equal(0.08692857143, analysis.LeastSquaresFlatness, 1e-11);
        Assert.Equal(0.08, analysis.MinimumZone.Width, 1e-12);
        Assert.Equal(-4.487906274e-06 * 8100, analysis.Shape!.BowX.Coefficient, 1e-11);
        Assert.Equal([(4, 4), (3, 3), (2, 2)], analysis.MeshAdequacy.Select(m => (m.Columns, m.Rows)));
    }

    [Fact] // scipy 1.10.1 RegularGridInterpolator on R datasets::volcano
    public void Sparser_meshes_are_judged_on_all_readings()
    {
        SurfaceMap map = Volcano.KeepingEvery(1);
        SurfacePoint[] points = [.. map.Ys.SelectMany(y => map.Xs.Select(x => new SurfacePoint(x, y, Volcano.Heights[(int)x][(int)y])))];

        MeshAdequacy[] adequacy = [.. SurfaceAnalysis.Analyse(points).Value.MeshAdequacy];

        Assert.Equal([(43, 31), (29, 21), (22, 16), (15, 11), (8, 6)], adequacy.Select(m => (m.Columns, m.Rows)));
        Assert.Equal([.6086506726, .9852284726, 1.3270594065, 2.1812633169, 5.8377014999], adequacy.Select(m => Math.Round(m.Rms, 10)));
        Assert.Equal([4.5, 5.4444444, 6.5, 10.5, 25.5], adequacy.Select(m => Math.Round(m.Worst, 7)));
    }

    [Fact]
    public void Four_readings_have_a_plane_and_a_zone_but_no_shape()
    {
        SurfaceAnalysis analysis = SurfaceAnalysis.Analyse([new(0, 0, 0), new(10, 0, 1), new(0, 10, 1), new(10, 10, 0)]).Value;

        Assert.Null(analysis.Shape);
        Assert.Equal(1, analysis.MinimumZone.Width, 1e-12);
    }

    [Fact]
    public void Ten_thousand_readings_are_analysed()
    {
        SurfacePoint[] points = [.. Enumerable.Range(0, 10_000).Select(k => new SurfacePoint(k % 100, k / 100, Math.Sin(k % 100 / 20.0) * 0.1))];

        SurfaceAnalysis analysis = SurfaceAnalysis.Analyse(points).Value;
        Assert.True(analysis.MinimumZone.Width <= analysis.LeastSquaresFlatness + 1e-12);
    }

    [Fact]
    public void Two_readings_are_refused() =>
        Assert.Equal(RefusalKind.TooFew, SurfaceAnalysis.Analyse([new(0, 0, 0), new(1, 1, 1)]).Refusal!.Kind);
}
