using CsCheck;
using ProbeRunner.Metrology.Flatness;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Tests.Data;

namespace ProbeRunner.Metrology.Tests.Flatness;

public sealed class MinimumZoneTests
{
    [Fact] // heights recalled from a gauging textbook; answer by two linear-programming solvers, scipy 1.10.1 HiGHS and R lpSolve 5.6.18
    public void The_zone_of_the_gauging_example_is_that_of_two_solvers()
    {
        MinimumZone zone = MinimumZone.Fit(Beds.GaugingExample).Value;

        Assert.Equal(27, zone.Width, 1e-12);
        Assert.Equal(-2, zone.MidPlane.A, 1e-12);
        Assert.Equal(-5, zone.MidPlane.B, 1e-12);
        Assert.Equal(13.5, zone.MidPlane.C, 1e-12);
    }

    [Fact] // by hand, confirmed by scipy 1.10.1 HiGHS and R lpSolve 5.6.18
    public void One_bump_on_a_flat_plate_is_its_own_height()
    {
        MinimumZone zone = MinimumZone.Fit(Beds.Grid([0, 0, 0, 0, 1, 0, 0, 0, 0])).Value;

        Assert.Equal(1, zone.Width, 1e-13);
        Assert.Equal(0, zone.MidPlane.A, 1e-13);
        Assert.Equal(0, zone.MidPlane.B, 1e-13);
        Assert.Equal(0.5, zone.MidPlane.C, 1e-13);
    }

    [Fact] // z = x^2 + y^2 on 0, 1, 2: scipy 1.10.1 HiGHS and R lpSolve 5.6.18
    public void The_zone_of_a_bowl_is_two_wide()
    {
        MinimumZone zone = MinimumZone.Fit(Beds.Grid([0, 1, 4, 1, 2, 5, 4, 5, 8])).Value;

        Assert.Equal(2, zone.Width, 1e-13);
        Assert.Equal(2, zone.MidPlane.A, 1e-12);
        Assert.Equal(2, zone.MidPlane.B, 1e-12);
        Assert.Equal(-1, zone.MidPlane.C, 1e-12);
    }

    [Fact] // 7 x 7 part of R datasets::volcano: scipy 1.10.1 HiGHS and R lpSolve 5.6.18
    public void The_zone_of_the_volcano_bed_is_that_of_two_solvers()
    {
        MinimumZone zone = MinimumZone.Fit(Beds.SevenBySeven).Value;

        Assert.Equal(0.08, zone.Width, 1e-12);
        Assert.Equal(-5e-05, zone.MidPlane.A, 1e-14);
        Assert.Equal(1.666666667e-05, zone.MidPlane.B, 1e-14);
        Assert.Equal(0.01, zone.MidPlane.C, 1e-12);
        Assert.Equal(0.0799999998889, zone.NormalWidth, 1e-12);
    }

    [Fact] // ISO 12781: the minimum zone is the least of all zones
    public void No_zone_is_wider_than_the_least_squares_one_and_none_narrower_than_what_its_contacts_prove() =>
        Gen.Select(Gen.Int[4, 300], Gen.Int[0, 1_000_000]).Sample((count, seed) =>
        {
            SurfacePoint[] points = Scattered(count, seed);
            MinimumZone zone = MinimumZone.Fit(points).Value;
            PlaneFit plane = PlaneFit.LeastSquares(points).Value;
            double peakToValley = points.Max(p => p.Z) - points.Min(p => p.Z);
            Assert.True(zone.Width <= plane.PeakToValley + 1e-12, $"{zone.Width} > {plane.PeakToValley}");
            Assert.True(zone.Width <= peakToValley + 1e-12, $"{zone.Width} > {peakToValley}");
            Assert.All(points, p => Assert.True(Math.Abs(p.Z - zone.MidPlane.HeightAt(p.X, p.Y)) <= (zone.Width / 2) + 1e-12));
            AssertProven(points, zone);
        });

    [Fact]
    public void A_grid_with_many_equal_heights_is_settled() =>
        Gen.Select(Gen.Int[2, 12], Gen.Int[2, 12], Gen.Int[0, 1_000_000]).Sample((columns, rows, seed) =>
        {
            var random = new Random(seed);
            SurfacePoint[] points = [.. Enumerable.Range(0, columns * rows).Select(k =>
                new SurfacePoint(k % columns * 20, k / columns * 20, random.Next(3) * 0.005))];
            MinimumZone zone = MinimumZone.Fit(points).Value;
            Assert.All(points, p => Assert.True(Math.Abs(p.Z - zone.MidPlane.HeightAt(p.X, p.Y)) <= (zone.Width / 2) + 1e-12));
            AssertProven(points, zone);
        });

    [Fact]
    public void A_plane_added_changes_the_mid_plane_only_and_a_factor_scales_the_width() =>
        Gen.Select(Gen.Double[-1, 1], Gen.Double[-1, 1], Gen.Double[0.01, 100], Gen.Int[0, 1_000_000]).Sample((a, b, factor, seed) =>
        {
            SurfacePoint[] points = Scattered(40, seed);
            MinimumZone before = MinimumZone.Fit(points).Value;
            MinimumZone tilted = MinimumZone.Fit([.. points.Select(p => p with { Z = p.Z + (a * p.X) + (b * p.Y) - 3 })]).Value;
            MinimumZone scaled = MinimumZone.Fit([.. points.Select(p => p with { Z = p.Z * factor })]).Value;
            Assert.Equal(before.Width, tilted.Width, 1e-10);
            Assert.Equal(before.MidPlane.A + a, tilted.MidPlane.A, 1e-9);
            Assert.Equal(before.Width * factor, scaled.Width, 1e-11 * factor);
        });

    [Fact]
    public void Readings_in_one_plane_have_no_width()
    {
        MinimumZone zone = MinimumZone.Fit([.. Enumerable.Range(0, 25).Select(k => new SurfacePoint(k % 5, k / 5, (2 * (k % 5)) - (k / 5)))]).Value;

        Assert.Equal(0, zone.Width, 1e-12);
        Assert.Equal(ContactPattern.Coplanar, zone.Contacts);
    }

    [Fact]
    public void Two_heights_at_one_place_are_a_zone_of_their_own()
    {
        MinimumZone zone = MinimumZone.Fit([new(0, 0, 0), new(10, 0, 0), new(0, 10, 0), new(5, 5, 0.3), new(5, 5, -0.3)]).Value;

        Assert.Equal(0.6, zone.Width, 1e-12);
        Assert.Equal(ContactPattern.SamePlace, zone.Contacts);
    }

    [Fact]
    public void What_spans_no_plane_is_refused()
    {
        Assert.Equal(RefusalKind.TooFew, MinimumZone.Fit([new(0, 0, 0)]).Refusal!.Kind);
        Assert.Equal(RefusalKind.Undetermined, MinimumZone.Fit([.. Enumerable.Range(0, 9).Select(k => new SurfacePoint(k, 2 * k, k % 2))]).Refusal!.Kind);
        Assert.Equal(RefusalKind.NotFinite, MinimumZone.Fit([new(0, 0, 0), new(1, 0, 0), new(0, 1, double.NaN)]).Refusal!.Kind);
    }

    [Fact]
    public void A_hundred_thousand_readings_are_settled_and_proven()
    {
        SurfacePoint[] points = Scattered(100_000, 7);
        AssertProven(points, MinimumZone.Fit(points).Value);
    }

    private static SurfacePoint[] Scattered(int count, int seed)
    {
        var random = new Random(seed);
        return [.. Enumerable.Range(0, count).Select(_ =>
        {
            double x = 220 * random.NextDouble(), y = 220 * random.NextDouble();
            return new SurfacePoint(x, y, (0.3 * Math.Sin(x / 60)) + (0.2 * Math.Cos(y / 45)) + (0.01 * random.NextDouble()));
        })];
    }

    /// <summary>The contacts touch the planes, and a convex combination of the upper ones' places is one of the lower ones': no closer planes exist.</summary>
    private static void AssertProven(SurfacePoint[] points, MinimumZone zone)
    {
        if (zone.Width < 1e-12)
        {
            return;
        }

        Assert.All(zone.Upper, i => Assert.Equal(zone.Width / 2, points[i].Z - zone.MidPlane.HeightAt(points[i].X, points[i].Y), 1e-11));
        Assert.All(zone.Lower, i => Assert.Equal(-zone.Width / 2, points[i].Z - zone.MidPlane.HeightAt(points[i].X, points[i].Y), 1e-11));
        Assert.True(Meet([.. zone.Upper.Select(i => points[i])], [.. zone.Lower.Select(i => points[i])]), "the contacts prove nothing");
    }

    private static bool Meet(SurfacePoint[] upper, SurfacePoint[] lower)
    {
        SurfacePoint[] few = upper.Length < lower.Length ? upper : lower, many = upper.Length < lower.Length ? lower : upper;
        const double Slack = 1e-6;
        return (few.Length, many.Length) switch
        {
            (1, 1) => Math.Abs(few[0].X - many[0].X) + Math.Abs(few[0].Y - many[0].Y) < Slack,
            (1, 2) => Math.Abs(Turn(few[0], many[0], many[1])) < Slack
                && ((few[0].X - many[0].X) * (few[0].X - many[1].X)) + ((few[0].Y - many[0].Y) * (few[0].Y - many[1].Y)) <= Slack,
            (1, 3) => SameSign(Turn(many[0], many[1], few[0]), Turn(many[1], many[2], few[0]), Turn(many[2], many[0], few[0])),
            (2, 2) => Turn(few[0], few[1], many[0]) * Turn(few[0], few[1], many[1]) <= Slack
                && Turn(many[0], many[1], few[0]) * Turn(many[0], many[1], few[1]) <= Slack,
            _ => false,
        };

        static bool SameSign(double a, double b, double c) => (a >= -Slack && b >= -Slack && c >= -Slack) || (a <= Slack && b <= Slack && c <= Slack);
        static double Turn(SurfacePoint a, SurfacePoint b, SurfacePoint c) => ((b.X - a.X) * (c.Y - a.Y)) - ((b.Y - a.Y) * (c.X - a.X));
    }
}
