using ProbeRunner.SimulatedPrinter.Physics;

namespace ProbeRunner.SimulatedPrinter.Tests.Physics;

public class MisuseTests
{
    [Fact]
    public void A_move_on_an_unhomed_axis_is_recorded_and_a_short_lift_is_not() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.SendAsync("G91");
        await bench.SendAsync("G1 Z5 F300");
        await bench.SendAsync("M400");
        Assert.Empty(bench.Truth.IllegalMoves);
        await bench.SendAsync("G1 X5 F300");
        await bench.SendAsync("G1 Z-1 F300");
        await bench.SendAsync("M400");
        Assert.Equal(
            [(IllegalMoveKind.Unhomed, 5.0, 0.0), (IllegalMoveKind.Unhomed, 0.0, -1.0)],
            bench.Truth.IllegalMoves.Select(move => (move.Kind, move.DX, move.DZ)));
    });

    [Fact]
    public void Homing_itself_is_no_illegal_move() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        Assert.Empty(bench.Truth.IllegalMoves);
        Assert.Empty(bench.Truth.Scratches);
    });

    [Fact]
    public void A_nozzle_dragged_through_the_bed_is_recorded_with_depth_and_length() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("M211 S0");
        await bench.SendAsync("G1 X100 Y100 Z2 F6000");
        await bench.SendAsync(FormattableString.Invariant($"G1 Z{bench.Truth.ContactHeightAt(100, 100) - 0.2:F3} F300"));
        await bench.SendAsync("G1 X150 F3000");
        await bench.SendAsync("M400");
        Assert.Equal(2, bench.Truth.Scratches.Count);
        Assert.Equal(0.2, bench.Truth.Scratches[0].DepthMm, 0.01);
        Assert.InRange(bench.Truth.Scratches[1].LengthMm, 40, 50);
        Assert.Equal(-bench.Truth.LowestGapMm, bench.Truth.Scratches.Max(scratch => scratch.DepthMm), 9);
    });

    [Fact]
    public void A_low_move_through_a_clip_is_recorded() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("G1 X80 Y3 Z4 F6000");
        await bench.SendAsync("G1 X160 F6000");
        await bench.SendAsync("M400");
        Assert.Contains(bench.Truth.IllegalMoves, move => move.Kind == IllegalMoveKind.Clip);
    });

    [Fact]
    public void A_pin_dragged_over_the_bed_is_recorded() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("M401");
        await bench.SendAsync("G1 X100 Y100 Z1 F6000");
        await bench.SendAsync("G1 X150 F6000");
        await bench.SendAsync("M400");
        Assert.Contains(bench.Truth.IllegalMoves, move => move.Kind == IllegalMoveKind.PinDragged);
    });

    [Fact]
    public void Driving_beyond_the_end_of_travel_is_recorded() => Bench.Run(Bench.Good(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("M211 S0");
        await bench.SendAsync("G1 X300 F6000");
        await bench.SendAsync("M400");
        Assert.Contains(bench.Truth.IllegalMoves, move => move.Kind == IllegalMoveKind.EndOfTravel);
        Assert.Equal(bench.Printer.Scenario.Travel.MaxX, bench.Truth.Nozzle.X);
    });
}
