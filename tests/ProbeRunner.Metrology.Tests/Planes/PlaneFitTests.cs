using CsCheck;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Tests.Data;

namespace ProbeRunner.Metrology.Tests.Planes;

public sealed class PlaneFitTests
{
    [Fact] // R 4.2.2 lm on a 7 x 7 part of datasets::volcano
    public void The_plane_of_the_volcano_bed_is_that_of_R()
    {
        PlaneFit fit = PlaneFit.LeastSquares(Beds.SevenBySeven).Value;

        Assert.Equal(-1.192176871e-04, fit.Plane.A, 1e-13);
        Assert.Equal(-3.724489796e-05, fit.Plane.B, 1e-13);
        Assert.Equal(6.673469388e-03, fit.Plane.C, 1e-12);
        Assert.Equal(0.02448512849, fit.StandardDeviation, 1e-11);
        Assert.Equal(0.02372374587, fit.Rms, 1e-11);
        Assert.Equal(0.08692857143, fit.PeakToValley, 1e-11);
        Assert.Equal(0.05025510204, fit.Residuals.Max(), 1e-11);
        Assert.Equal(-0.03667346939, fit.Residuals.Min(), 1e-11);
    }

    [Fact] // R 4.2.2: sqrt(a^2 + b^2), atan2 and the standard errors of summary(lm)
    public void The_tilt_of_the_volcano_bed_is_that_of_R()
    {
        PlaneFit fit = PlaneFit.LeastSquares(Beds.SevenBySeven).Value;

        Assert.Equal(1.249001e-04, fit.Plane.Slope, 1e-10);
        Assert.Equal(0.00715625, Math.Atan(fit.Plane.Slope) * 180 / Math.PI, 1e-8);
        Assert.Equal(-162.650629, fit.Plane.UphillAzimuthDegrees, 1e-6);
        Assert.Equal(5.829792e-05, fit.StandardErrorA, 1e-11);
        Assert.Equal(5.829792e-05, fit.StandardErrorB, 1e-11);
    }

    [Fact] // heights recalled from a gauging textbook; answer by R 4.2.2 lm
    public void The_plane_of_the_gauging_example_is_that_of_R()
    {
        PlaneFit fit = PlaneFit.LeastSquares(Beds.GaugingExample).Value;

        Assert.Equal(10.0 / 3, fit.Plane.A, 1e-12);
        Assert.Equal(-2.5, fit.Plane.B, 1e-12);
        Assert.Equal(0.388889, fit.Plane.C, 1e-6);
        Assert.Equal(10.110958, fit.StandardDeviation, 1e-6);
        Assert.Equal(32.333333, fit.PeakToValley, 1e-6);
        Assert.Equal(18.777778, fit.Residuals.Max(), 1e-6);
        Assert.Equal(-13.555556, fit.Residuals.Min(), 1e-6);
    }

    [Fact] // z = x^2 + y^2 on 0, 1, 2: plane 2, 2, -2/3 by hand
    public void The_plane_of_a_bowl_is_known_by_hand()
    {
        PlaneFit fit = PlaneFit.LeastSquares(Beds.Grid([0, 1, 4, 1, 2, 5, 4, 5, 8])).Value;

        Assert.Equal(2, fit.Plane.A, 1e-13);
        Assert.Equal(2, fit.Plane.B, 1e-13);
        Assert.Equal(-2.0 / 3, fit.Plane.C, 1e-13);
        Assert.Equal(2, fit.PeakToValley, 1e-13);
    }

    [Fact]
    public void A_robust_plane_is_not_pulled_by_a_third_of_wild_readings()
    {
        SurfacePoint[] points = [.. Enumerable.Range(0, 49).Select(k =>
            new SurfacePoint(30 * (k % 7), 30 * (k / 7), (0.001 * (k % 7)) - (0.002 * (k / 7)) + (k % 3 == 0 ? 0.5 : 1e-5 * (k % 5))))];

        PlaneFit robust = PlaneFit.Robust(points).Value;

        Assert.Equal(0.001 / 30, robust.Plane.A, 1e-6);
        Assert.Equal(-0.002 / 30, robust.Plane.B, 1e-6);
        Assert.All(points.Select((_, k) => k).Where(k => k % 3 == 0), k => Assert.Equal(0, robust.Weights[k]));
    }

    [Fact]
    public void A_plane_added_moves_the_fit_by_that_plane_and_leaves_the_residuals() =>
        Gen.Select(Gen.Double[-1, 1], Gen.Double[-1, 1], Gen.Double[-1000, 1000], Gen.Double[-1, 1].Array[5, 60]).Sample((a, b, c, heights) =>
        {
            SurfacePoint[] points = [.. heights.Select((z, k) => new SurfacePoint(k % 4 * 31.7, (k / 4 * 29.3) + (k % 3), z))];
            SurfacePoint[] tilted = [.. points.Select(p => p with { Z = p.Z + (a * p.X) + (b * p.Y) + c })];
            PlaneFit before = PlaneFit.LeastSquares(points).Value, after = PlaneFit.LeastSquares(tilted).Value;
            Assert.Equal(before.Plane.A + a, after.Plane.A, 1e-10);
            Assert.Equal(before.Plane.B + b, after.Plane.B, 1e-10);
            Assert.Equal(before.Plane.C + c, after.Plane.C, 1e-8);
            Assert.Equal(before.PeakToValley, after.PeakToValley, 1e-9);
        });

    [Fact]
    public void What_determines_no_plane_is_refused_with_the_reason()
    {
        Assert.Equal(RefusalKind.TooFew, PlaneFit.LeastSquares([]).Refusal!.Kind);
        Assert.Equal(RefusalKind.TooFew, PlaneFit.LeastSquares([new(0, 0, 0), new(1, 0, 0)]).Refusal!.Kind);
        Assert.Equal(RefusalKind.NotFinite, PlaneFit.LeastSquares([new(0, 0, 0), new(1, double.NaN, 0), new(0, 1, 0)]).Refusal!.Kind);
        Assert.Equal(RefusalKind.NotFinite, PlaneFit.Robust([new(0, 0, 0), new(1, 0, double.PositiveInfinity), new(0, 1, 0)]).Refusal!.Kind);
        Assert.Equal(RefusalKind.Undetermined, PlaneFit.LeastSquares([new(0, 0, 0), new(1, 1, 0), new(2, 2, 1), new(3, 3, 5)]).Refusal!.Kind);
        Assert.Equal(RefusalKind.Undetermined, PlaneFit.LeastSquares([new(5, 5, 0), new(5, 5, 0), new(5, 5, 1)]).Refusal!.Kind);
    }

    [Fact]
    public void Three_readings_give_their_plane_and_no_scatter()
    {
        PlaneFit fit = PlaneFit.LeastSquares([new(0, 0, 1), new(10, 0, 2), new(0, 10, 4)]).Value;

        Assert.Equal(0.1, fit.Plane.A, 1e-14);
        Assert.Equal(0.3, fit.Plane.B, 1e-14);
        Assert.Equal(1, fit.Plane.C, 1e-14);
        Assert.Equal(0, fit.StandardDeviation);
    }
}
