using ProbeRunner.Benchmarks.BedSuite;
using ProbeRunner.Metrology.CaptureComparison;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Tests.CaptureComparison;

public sealed class CaptureDifferenceTests
{
    private static readonly Box Area = new(0, 0, 220, 220);

    [Fact]
    public void Two_captures_of_an_unchanged_bed_hardly_ever_show_a_change()
    {
        int alarms = 0;
        for (int seed = 0; seed < 20; seed++)
        {
            CaptureDifference difference = CaptureDifference.Between(Capture(seed, (_, _) => 0), Capture(1000 + seed, (_, _) => 0.3), Area).Value;
            Assert.Equal(0.3, difference.ShiftMm, 0.01);
            alarms += difference.Largest.PValue < 0.01 ? 1 : 0;
            alarms += new[] { difference.TiltX, difference.TiltY, difference.BowX, difference.BowY, difference.Twist }.Count(c => c.PValue < 0.001);
        }

        Assert.InRange(alarms, 0, 2);
    }

    [Fact]
    public void A_changed_tilt_is_found_and_nothing_else()
    {
        CaptureDifference difference = CaptureDifference.Between(Capture(1, (_, _) => 0), Capture(2, (x, _) => 0.1 * x / 220), Area).Value;

        Assert.Equal(0.1, difference.TiltX.ChangeMm, 0.01);
        Assert.True(difference.TiltX.PValue < 1e-6);
        Assert.True(difference.TiltY.PValue > 0.001);
        Assert.True(difference.Largest.PValue > 0.01);
    }

    [Fact]
    public void A_new_bump_is_found_where_it_is()
    {
        CaptureDifference difference = CaptureDifference.Between(
            Capture(3, (_, _) => 0), Capture(4, (x, y) => 0.1 * Math.Exp(-(((x - 66) * (x - 66)) + ((y - 154) * (y - 154))) / 800)), Area).Value;

        Assert.True(difference.Largest.PValue < 1e-4);
        Assert.InRange(difference.Largest.X, 44, 88);
        Assert.InRange(difference.Largest.Y, 132, 176);
        Assert.InRange(difference.Largest.ChangeMm, 0.05, 0.12);
    }

    [Fact]
    public void An_area_without_extent_is_refused() =>
        Assert.Equal(RefusalKind.OutOfRange, CaptureDifference.Between(Capture(1, (_, _) => 0), Capture(2, (_, _) => 0), new Box(0, 0, 0, 1)).Refusal!.Kind);

    private static SurfacePosterior Capture(int seed, Func<double, double, double> change)
    {
        var chance = new Chance(seed);
        CaptureReading[] readings = [.. Enumerable.Range(0, 100).Select(k =>
        {
            double x = 220 * (k % 10) / 9.0, y = 220 * (k / 10) / 9.0;
            return new CaptureReading(x, y, (0.1 * Math.Sin(x / 60)) + (0.05 * Math.Cos(y / 50)) + change(x, y) + (0.004 * chance.Normal()), 0, 1);
        })];
        return SurfaceModel.Fit(readings, new SurfaceModelOptions { RepeatabilityMm = 0.004, MayDrift = false }).Value;
    }
}
