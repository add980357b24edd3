using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Machine.Tests.Guard;

public sealed class MotionGuardTests
{
    private static readonly MachineProfile Wren = Shipped.Wren;

    private static readonly BedPoint Middle = new(120, 120);

    /// <summary>Homed with a stored Z offset of -2: triggers at 2 at the homing place; clearance 7 before verification.</summary>
    private static MotionGuard Homed() => MotionGuard.For(Wren)
        .OffsetIs(new ProbeOffset(-38, -9, -2))
        .Homed(Axes.All)
        .ProbeIs(ProbePosture.Retracted)
        .MeshIs(MeshInForce.Off)
        .At(new NozzlePosition(158, 129, 10));

    /// <summary>Over the middle, touched there at 2.0, step-down open with 2.2 mm from trigger to nozzle: floor -0.7, near the bed below 0.8.</summary>
    private static MotionGuard SteppingDown() => Homed()
        .Touched(Middle, 2.0)
        .At(new NozzlePosition(120, 120, 8))
        .StepDownBegun(2.0, 2.2);

    private static RefusalReason? Reason(MotionGuard guard, MotionRequest request) => guard.Decide(request)?.Reason;

    private static MotionRequest.Height To(double z) => new MotionRequest.Height(z, 60);

    [Fact]
    public void Before_homing_only_a_bounded_lift_and_homing_are_allowed()
    {
        MotionGuard guard = MotionGuard.For(Wren);

        Assert.Null(guard.Decide(new MotionRequest.LiftUnhomed(5)));
        Assert.Null(guard.Decide(new MotionRequest.Home(Axes.XY)));
        Assert.Equal(RefusalReason.NotHomed, Reason(guard, new MotionRequest.Home(Axes.Z)));
        Assert.Equal(RefusalReason.NotHomed, Reason(guard, new MotionRequest.Level(Middle)));
        Assert.Equal(RefusalReason.NotHomed, Reason(guard, To(20)));
        Assert.Equal(RefusalReason.NotHomed, Reason(guard, new MotionRequest.Touch(Middle)));
    }

    [Fact]
    public void Lifts_before_homing_add_up_to_the_one_that_is_allowed()
    {
        MotionGuard guard = MotionGuard.For(Wren).LiftedUnhomed(3);

        Assert.Null(guard.Decide(new MotionRequest.LiftUnhomed(2)));
        Assert.Equal(RefusalReason.LiftNotBounded, Reason(guard, new MotionRequest.LiftUnhomed(2.5)));
        Assert.Equal(RefusalReason.LiftNotBounded, Reason(guard, new MotionRequest.LiftUnhomed(-0.1)));
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(double.NegativeInfinity)]
    public void A_target_that_is_no_number_is_refused_in_every_kind_of_request(double number)
    {
        MotionGuard guard = SteppingDown();

        Assert.NotNull(guard.Decide(new MotionRequest.LiftUnhomed(number)));
        Assert.NotNull(guard.Decide(new MotionRequest.Level(new BedPoint(number, 10))));
        Assert.NotNull(guard.Decide(new MotionRequest.Height(number, 60)));
        Assert.NotNull(guard.Decide(new MotionRequest.Height(20, number)));
        Assert.NotNull(guard.Decide(new MotionRequest.Touch(new BedPoint(10, number))));
        Assert.Throws<MotionRefusedException>(() => Homed().Touched(Middle, 2).At(new NozzlePosition(120, 120, 8)).StepDownBegun(number, 2));
        Assert.Throws<MotionRefusedException>(() => Homed().Touched(Middle, 2).At(new NozzlePosition(120, 120, 8)).StepDownBegun(2, number));
    }

    [Fact]
    public void Level_travel_needs_5_mm_above_the_highest_touch_until_the_offset_is_verified()
    {
        MotionGuard guard = Homed().Touched(Middle, 2.4);

        Assert.Equal(7.4, guard.ClearanceZ, 9);
        Assert.Equal(RefusalReason.BelowClearance, Reason(guard.At(new NozzlePosition(120, 120, 7.3)), new MotionRequest.Level(new BedPoint(50, 50))));
        Assert.Null(guard.At(new NozzlePosition(120, 120, 7.4)).Decide(new MotionRequest.Level(new BedPoint(50, 50))));
    }

    [Fact]
    public void Level_travel_leaves_the_travel_limits_nowhere()
    {
        Assert.Null(Homed().Decide(new MotionRequest.Level(new BedPoint(240, 240))));
        Assert.Equal(RefusalReason.OutsideTravel, Reason(Homed(), new MotionRequest.Level(new BedPoint(240.1, 100))));
        Assert.Equal(RefusalReason.OutsideTravel, Reason(Homed(), new MotionRequest.Level(new BedPoint(10, -1))));
        Assert.Equal(RefusalReason.OutsideTravel, Reason(Homed(), new MotionRequest.Height(241, 600)));
    }

    [Fact]
    public void A_touch_is_refused_off_the_bed_on_a_clip_out_of_reach_and_from_too_low()
    {
        Assert.Null(Homed().Decide(new MotionRequest.Touch(Middle)));
        Assert.Equal(RefusalReason.OffBed, Reason(Homed(), new MotionRequest.Touch(new BedPoint(2, 100))));
        Assert.Equal(RefusalReason.OutsideTravel, Reason(Homed(), new MotionRequest.Touch(new BedPoint(215, 100))));
        Assert.Equal(RefusalReason.OnClip, Reason(Homed(), new MotionRequest.Touch(new BedPoint(120, 7))));
        Assert.Equal(RefusalReason.BelowClearance, Reason(Homed().At(new NozzlePosition(120, 120, 3)), new MotionRequest.Touch(Middle)));
    }

    [Fact]
    public void Level_travel_over_a_clip_needs_the_height_to_pass_it()
    {
        // Wren's front clip spans x 100..140, y 0..6 and stands 8 mm up; the bed is near Z = 0 of the nozzle.
        MotionGuard left = Homed().At(new NozzlePosition(60, 3, 7.5));
        var right = new MotionRequest.Level(new BedPoint(180, 3));

        Assert.Equal(RefusalReason.OnClip, Reason(left, right));
        Assert.Null(left.Decide(new MotionRequest.Level(new BedPoint(60, 60))));
        MotionGuard high = left.At(new NozzlePosition(60, 3, left.OverClipsZ));
        Assert.Null(high.Decide(right));

        // Found by the machine that knows the truth: having passed over the clip, the nozzle could be lowered onto it.
        MotionGuard over = high.At(new NozzlePosition(120, 3, left.OverClipsZ));
        Assert.Equal(RefusalReason.OnClip, Reason(over, To(7.5)));
        Assert.Equal(RefusalReason.OnClip, Reason(over.At(new NozzlePosition(158, 12, left.OverClipsZ)), new MotionRequest.Extend()));
    }

    [Fact]
    public void Nothing_is_measured_while_mesh_correction_is_on_or_unknown()
    {
        Assert.Equal(RefusalReason.MeshCorrectionUnknown, Reason(Homed().MeshIs(null), new MotionRequest.Touch(Middle)));
        Assert.Equal(RefusalReason.MeshCorrectionUnknown, Reason(Homed().MeshIs(new MeshInForce(-0.1, 0.2)), new MotionRequest.Touch(Middle)));
    }

    [Fact]
    public void A_descent_below_clearance_needs_a_step_down_at_a_place_touched_in_this_epoch()
    {
        MotionGuard over = Homed().At(new NozzlePosition(120, 120, 8));

        Assert.Null(over.Decide(To(7)));
        Assert.Equal(RefusalReason.StepDownState, Reason(over, To(5)));
        Assert.Throws<MotionRefusedException>(() => over.StepDownBegun(2, 2.2));
        Assert.Throws<MotionRefusedException>(() => Homed().Touched(new BedPoint(100, 100), 2).At(new NozzlePosition(120, 120, 8)).StepDownBegun(2, 2.2));
        Assert.Throws<MotionRefusedException>(() => SteppingDown().Homed(Axes.Z).At(new NozzlePosition(120, 120, 8)).StepDownBegun(2, 2.2));
    }

    [Fact]
    public void Near_the_bed_a_step_is_at_most_a_tenth_and_none_goes_below_the_floor()
    {
        MotionGuard guard = SteppingDown();

        Assert.Null(guard.Decide(To(0.8)));
        Assert.Equal(RefusalReason.StepTooLarge, Reason(guard, To(0.79)));
        MotionGuard low = guard.At(new NozzlePosition(120, 120, 0.8));
        Assert.Null(low.Decide(To(0.7)));
        Assert.Equal(RefusalReason.StepTooLarge, Reason(low, To(0.69)));
        MotionGuard lowest = guard.At(new NozzlePosition(120, 120, -0.65));
        Assert.Null(lowest.Decide(To(-0.7)));
        Assert.Equal(RefusalReason.BelowFloor, Reason(lowest, To(-0.71)));
    }

    [Fact]
    public void The_first_contact_bounds_the_descent_whatever_is_answered_later()
    {
        MotionGuard guard = SteppingDown().At(new NozzlePosition(120, 120, 0.05)).Contact(0.05).Contact(-0.3);

        Assert.Null(guard.Decide(To(-0.05)));
        Assert.Equal(RefusalReason.BeyondContact, Reason(guard, To(-0.06)));
        MotionGuard again = guard.StepDownEnded().At(new NozzlePosition(120, 120, 8)).StepDownBegun(2.0, 2.2).At(new NozzlePosition(120, 120, 0));
        Assert.Equal(RefusalReason.BeyondContact, Reason(again, To(-0.06)));
    }

    [Fact]
    public void A_lower_trigger_height_or_a_longer_distance_does_not_lower_the_floor_beyond_what_was_touched()
    {
        MotionGuard touched = Homed().Touched(Middle, 2.0).At(new NozzlePosition(120, 120, 8));

        Assert.Equal(-0.7, touched.StepDownBegun(-5, 2.2).State.StepDown!.FloorZ, 9);
        Assert.Throws<MotionRefusedException>(() => touched.StepDownBegun(2, 9));
        MotionGuard low = Homed().Touched(Middle, -3).At(new NozzlePosition(120, 120, 8));
        Assert.Equal(Wren.Travel.LowestZ, low.StepDownBegun(-3, 2.2).State.StepDown!.FloorZ, 9);
    }

    [Fact]
    public void Where_the_nozzle_really_goes_counts_mesh_included()
    {
        MotionGuard guard = SteppingDown().MeshIs(new MeshInForce(-0.2, 0.3)).At(new NozzlePosition(120, 120, -0.45));

        Assert.Null(guard.Decide(To(-0.5)));
        Assert.Equal(RefusalReason.BelowFloor, Reason(guard, To(-0.51)));
        Assert.Equal(RefusalReason.MeshCorrectionUnknown, Reason(guard.MeshIs(null), To(-0.46)));
    }

    [Fact]
    public void The_nozzle_does_not_come_down_with_the_probe_out_or_unknown()
    {
        Assert.Equal(RefusalReason.ProbeExtended, Reason(SteppingDown().ProbeIs(ProbePosture.Extended), To(3)));
        Assert.Equal(RefusalReason.ProbeExtended, Reason(SteppingDown().ProbeIs(ProbePosture.Unknown), To(3)));
    }

    [Fact]
    public void After_a_halt_nothing_is_allowed_until_the_controller_was_reset()
    {
        MotionGuard halted = Homed().Halted();

        Assert.Equal(RefusalReason.Halted, Reason(halted, new MotionRequest.Home(Axes.All)));
        Assert.Equal(RefusalReason.Halted, Reason(halted, new MotionRequest.LiftUnhomed(1)));
        Assert.Null(halted.Lost().Decide(new MotionRequest.Home(Axes.All)));
    }

    [Fact]
    public void Writing_the_offset_ends_the_epoch()
    {
        MotionGuard guard = Homed().OffsetVerified(true).OffsetWritten(new ProbeOffset(-38, -9, -2.1));

        Assert.False(guard.State.OffsetVerified);
        Assert.Equal(RefusalReason.NotHomed, Reason(guard, new MotionRequest.Level(Middle)));
        Assert.Equal(RefusalReason.NotHomed, Reason(guard, To(20)));
        Assert.Null(guard.Decide(new MotionRequest.Home(Axes.Z)));
    }

    [Fact]
    public void Homing_again_from_below_the_clearance_height_is_refused()
    {
        Assert.Equal(RefusalReason.BelowClearance, Reason(SteppingDown().At(new NozzlePosition(120, 120, 0.3)), new MotionRequest.Home(Axes.All)));
        Assert.Equal(RefusalReason.PositionUnknown, Reason(SteppingDown().PositionLost(), new MotionRequest.Home(Axes.All)));
    }

    [Fact]
    public void Leaving_the_place_closes_the_step_down() =>
        Assert.Null(SteppingDown().At(new NozzlePosition(60, 60, 8)).State.StepDown);
}
