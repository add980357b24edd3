using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.NextPlace;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Tests.NextPlace;

public sealed class MissedBumpTests
{
    private static readonly Box Area = new(0, 0, 220, 220);

    [Fact]
    public void Denser_touches_leave_less_to_be_missed_and_wider_bumps_hide_worse()
    {
        MissedBump sparse = MissedBump.Largest(Grid(5), Area, 40).Value, dense = MissedBump.Largest(Grid(9), Area, 40).Value;

        Assert.True(dense.HeightMm < sparse.HeightMm);
        Assert.True(MissedBump.Largest(Grid(9), Area, 60).Value.HeightMm < dense.HeightMm);
        Assert.InRange(dense.HeightMm, 3.29 * 0.004, 0.5);
    }

    [Fact]
    public void A_bump_hides_best_in_the_middle_of_four_touches()
    {
        MissedBump bump = MissedBump.Largest(Grid(6), Area, 25).Value;

        double step = 220 / 5.0, offX = Math.Abs((bump.X / step) - Math.Floor(bump.X / step) - 0.5), offY = Math.Abs((bump.Y / step) - Math.Floor(bump.Y / step) - 0.5);
        Assert.InRange(offX, 0, 0.2);
        Assert.InRange(offY, 0, 0.2);
    }

    [Fact]
    public void A_width_out_of_range_is_refused() =>
        Assert.Equal(RefusalKind.OutOfRange, MissedBump.Largest(Grid(5), Area, 1).Refusal!.Kind);

    private static SurfacePosterior Grid(int side)
    {
        var random = new Random(side);
        return SurfaceModel.Fit(
            [.. Enumerable.Range(0, side * side).Select(k => new CaptureReading(
                220.0 * (k % side) / (side - 1), 220.0 * (k / side) / (side - 1), 0.01 * (random.NextDouble() - 0.5), 0, 1))],
            new SurfaceModelOptions { RepeatabilityMm = 0.004, MayDrift = false }).Value;
    }
}
