using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Shapes;
using ProbeRunner.Metrology.Tests.Data;

namespace ProbeRunner.Metrology.Tests.Shapes;

public sealed class ShapeTermsTests
{
    [Fact] // R 4.2.2 lm z ~ 1 + x + y + x^2 + x y + y^2 on a 7 x 7 part of datasets::volcano
    public void The_shape_of_the_volcano_bed_is_the_quadratic_of_R()
    {
        ShapeTerms shape = ShapeTerms.Fit(Beds.SevenBySeven).Value;

        // x = 90 (u + 1), y = 90 (v + 1): the coefficients of u^2, v^2 and u v are 8100 times those of x^2, y^2 and x y.
        Assert.Equal(-4.487906274e-06 * 8100, shape.BowX.Coefficient, 1e-11);
        Assert.Equal(-4.162887377e-06 * 8100, shape.BowY.Coefficient, 1e-11);
        Assert.Equal(-6.434240363e-07 * 8100, shape.Twist.Coefficient, 1e-11);
        Assert.Equal(-3.746683673e-02, shape.HeightAt(0, 0), 1e-10);
        double slopeX = 7.465136054e-04 + (90 * -6.434240363e-07) + (180 * -4.487906274e-06);
        Assert.Equal(slopeX * 180, shape.TiltX.Coefficient, 1e-9);
        Assert.Equal(0.0148390, shape.ResidualStandardDeviation, 1e-7);
        Assert.Equal(0.009468430272, shape.ResidualStandardDeviation * shape.ResidualStandardDeviation * 43, 1e-11);
    }

    [Fact] // Legendre polynomials: the terms of a known surface are its own
    public void A_surface_made_of_the_terms_gives_them_back()
    {
        var box = new Box(-10, 5, 210, 305);
        SurfacePoint[] points = [.. Enumerable.Range(0, 35).Select(k =>
        {
            double x = -10 + (220 * (k % 5) / 4.0), y = 5 + (300 * (k / 5) / 6.0), u = box.U(x), v = box.V(y);
            return new SurfacePoint(x, y, 7 + (0.4 * u / 2) - (0.2 * v / 2) + (0.1 * ((u * u) - (1.0 / 3))) + (0.05 * ((v * v) - (1.0 / 3))) - (0.03 * u * v));
        })];

        ShapeTerms shape = ShapeTerms.Fit(points).Value;

        Assert.Equal(7, shape.Constant.Coefficient, 1e-12);
        Assert.Equal(0.4, shape.TiltX.Coefficient, 1e-12);
        Assert.Equal(-0.2, shape.TiltY.Coefficient, 1e-12);
        Assert.Equal(0.1, shape.BowX.Coefficient, 1e-12);
        Assert.Equal(0.05, shape.BowY.Coefficient, 1e-12);
        Assert.Equal(-0.03, shape.Twist.Coefficient, 1e-12);
    }

    [Fact]
    public void A_plane_added_changes_only_the_tilts_and_the_constant()
    {
        ShapeTerms before = ShapeTerms.Fit(Beds.SevenBySeven).Value;
        ShapeTerms after = ShapeTerms.Fit([.. Beds.SevenBySeven.Select(p => p with { Z = p.Z + (0.002 * p.X) - (0.001 * p.Y) + 5 })]).Value;

        Assert.Equal(before.BowX.Coefficient, after.BowX.Coefficient, 1e-11);
        Assert.Equal(before.BowY.Coefficient, after.BowY.Coefficient, 1e-11);
        Assert.Equal(before.Twist.Coefficient, after.Twist.Coefficient, 1e-11);
        Assert.Equal(before.TiltX.Coefficient + (0.002 * 180), after.TiltX.Coefficient, 1e-11);
        Assert.Equal(before.TiltY.Coefficient - (0.001 * 180), after.TiltY.Coefficient, 1e-11);
    }

    [Fact]
    public void Two_rows_do_not_determine_a_bow() =>
        Assert.Equal(
            RefusalKind.Undetermined,
            ShapeTerms.Fit([.. Enumerable.Range(0, 12).Select(k => new SurfacePoint(k % 6, k / 6, k))]).Refusal!.Kind);
}
