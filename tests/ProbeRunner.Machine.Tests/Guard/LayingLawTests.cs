using CsCheck;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;

namespace ProbeRunner.Machine.Tests.Guard;

public sealed class LayingLawTests
{
    private const double LayerMm = 0.2;
    private static readonly MachineProfile Wren = Shipped.Wren;
    private static readonly DateTimeOffset Now = new(2026, 1, 5, 6, 0, 0, TimeSpan.Zero);
    private static readonly Temperatures Hot = new(210, 210, 60, 60, Now);

    [Fact]
    public void No_sequence_of_lines_and_nudges_goes_below_half_the_layer_or_out_of_the_printable_area_or_far_by_nudges() =>
        Gen.Select(
            Gen.Int[0, 2],
            Gen.OneOf(Gen.Double[0, 0.6], Gen.Double[-6, 12], Gen.Const(double.NaN)),
            Gen.Select(Gen.Double[-10, 250], Gen.Double[-10, 250]),
            Gen.OneOf(Gen.Double[-0.03, 0.03], Gen.Double[-1, 1]),
            (kind, z, place, amount) => (Kind: kind, Z: z, X: place.Item1, Y: place.Item2, Amount: amount)).Array[5, 200].Sample(deeds =>
        {
            MotionGuard guard = Ready().LayingBegun(LayerMm).At(new NozzlePosition(120, 120, 0.2));
            NozzlePosition at = guard.State.Position!.Value;
            double nudged = 0;
            foreach ((int kind, double z, double x, double y, double amount) in deeds)
            {
                if (kind == 0)
                {
                    if (guard.Decide(new MotionRequest.Nudge(amount)) is null)
                    {
                        Assert.InRange(amount, -0.0201, 0.0201);
                        nudged += amount;
                        guard = guard.Nudged(amount);
                        Assert.InRange(nudged, -0.2001, 0.2001);
                        Assert.True(at.Z + nudged >= (LayerMm / 2) - 0.0002);
                    }
                }
                else if (guard.Decide(new MotionRequest.Lay(new BedPoint(x, y), kind == 1 ? at.Z : z, Math.Abs(amount), 1200)) is null)
                {
                    at = new NozzlePosition(x, y, kind == 1 ? at.Z : z);
                    guard = guard.At(at);
                    Assert.InRange(at.Z + nudged, (LayerMm / 2) - 0.0002, (2 * LayerMm) + 0.0002);
                    Assert.InRange(x, Wren.Bed.Printable.MinX - 0.001, Wren.Bed.Printable.MaxX + 0.001);
                    Assert.InRange(y, Wren.Bed.Printable.MinY - 0.001, Wren.Bed.Printable.MaxY + 0.001);
                    Assert.DoesNotContain(Wren.Bed.Clips, clip => clip.Contains(new BedPoint(x, y)));
                }
            }
        }, iter: 3000);

    [Fact]
    public void Laying_begins_only_with_everything_known_proven_and_hot()
    {
        Assert.Null(Begin(Ready(), Hot));
        Assert.Equal(RefusalReason.NotHomed, Begin(Ready().Forgotten(Axes.XY), Hot));
        Assert.Equal(RefusalReason.PositionUnknown, Begin(Ready().PositionLost(), Hot));
        Assert.Equal(RefusalReason.MeshCorrectionUnknown, Begin(Ready().MeshIs(null), Hot));
        Assert.Equal(RefusalReason.MeshCorrectionUnknown, Begin(Ready().MeshIs(MeshInForce.Off), Hot));
        Assert.Equal(RefusalReason.OffsetNotVerified, Begin(Ready().OffsetVerified(false), Hot));
        Assert.Equal(RefusalReason.ProbeExtended, Begin(Ready().ProbeIs(ProbePosture.Unknown), Hot));
        Assert.Equal(RefusalReason.Halted, Begin(Ready().Halted(), Hot));
        Assert.Equal(RefusalReason.NotHot, Begin(Ready(), null));
        Assert.Equal(RefusalReason.NotHot, Begin(Ready(), Hot with { At = Now - TimeSpan.FromSeconds(6) }));
        Assert.Equal(RefusalReason.NotHot, Begin(Ready(), Hot with { NozzleCelsius = 150 }));
        Assert.Equal(RefusalReason.NotHot, Begin(Ready(), Hot with { NozzleCelsius = 100, NozzleTargetCelsius = 100 }));
        Assert.Equal(RefusalReason.LayingState, Begin(Ready(), Hot, 0.5));
        Assert.Equal(RefusalReason.NotANumber, Begin(Ready(), Hot, double.NaN));
    }

    [Fact]
    public void Without_a_first_layer_begun_no_line_and_no_nudge_is_allowed()
    {
        MotionGuard guard = Ready();

        Assert.Equal(RefusalReason.LayingState, guard.Decide(new MotionRequest.Lay(new BedPoint(120, 120), 0.2, 0, 1200))?.Reason);
        Assert.Equal(RefusalReason.LayingState, guard.Decide(new MotionRequest.Nudge(0.01))?.Reason);
    }

    [Fact]
    public void A_nudge_that_would_put_the_next_line_out_of_bounds_is_refused_before_the_nozzle_has_come_down()
    {
        MotionGuard high = Ready().LayingBegun(LayerMm);

        Assert.Null(high.Decide(new MotionRequest.Nudge(-0.01, (LayerMm / 2) + 0.01)));
        Assert.Null(high.Decide(new MotionRequest.Nudge(0.01, (2 * LayerMm) - 0.01)));
        Assert.Equal(RefusalReason.BelowFloor, high.Decide(new MotionRequest.Nudge(-0.01, LayerMm / 2))?.Reason);
        Assert.Equal(RefusalReason.LayingState, high.Decide(new MotionRequest.Nudge(0.01, 2 * LayerMm))?.Reason);
        Assert.Equal(RefusalReason.BelowFloor, high.Decide(new MotionRequest.Nudge(-0.01, double.NaN))?.Reason);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void What_ends_the_datum_ends_the_laying(int what)
    {
        MotionGuard laying = Ready().LayingBegun(LayerMm);

        MotionGuard after = what switch
        {
            0 => laying.Lost(),
            1 => laying.Halted(),
            2 => laying.MotorsReleased(),
            3 => laying.Homed(Axes.Z),
            _ => laying.OffsetWritten(laying.State.Offset),
        };

        Assert.Null(after.State.Laying);
    }

    [Fact]
    public void The_nozzle_comes_straight_down_and_plastic_goes_with_the_way()
    {
        MotionGuard high = Ready().LayingBegun(LayerMm);
        MotionGuard low = high.At(new NozzlePosition(120, 120, 0.2));

        Assert.Null(high.Decide(new MotionRequest.Lay(new BedPoint(120, 120), 0.2, 0, 1200)));
        Assert.Equal(RefusalReason.BelowClearance, high.Decide(new MotionRequest.Lay(new BedPoint(140, 120), 0.2, 0.5, 1200))?.Reason);
        Assert.Null(low.Decide(new MotionRequest.Lay(new BedPoint(130, 120), 0.2, 0.374, 1200)));
        Assert.Equal(RefusalReason.LayingState, low.Decide(new MotionRequest.Lay(new BedPoint(130, 120), 0.2, 5, 1200))?.Reason);
        Assert.Equal(RefusalReason.LayingState, low.Decide(new MotionRequest.Lay(new BedPoint(130, 120), 0.2, -1, 1200))?.Reason);
        Assert.Equal(RefusalReason.OnClip, low.At(new NozzlePosition(80, 6, 0.2)).Decide(new MotionRequest.Lay(new BedPoint(160, 6), 0.2, 1, 1200))?.Reason);
    }

    private static MotionGuard Ready() => MotionGuard.For(Wren)
        .Homed(Axes.All).ProbeIs(ProbePosture.Retracted).MeshIs(new MeshInForce(-0.1, 0.1)).OffsetVerified(true).At(new NozzlePosition(120, 120, 12));

    private static RefusalReason? Begin(MotionGuard guard, Temperatures? heat, double layer = LayerMm) =>
        guard.Decide(new MotionRequest.BeginLaying(layer, heat, Now))?.Reason;
}
