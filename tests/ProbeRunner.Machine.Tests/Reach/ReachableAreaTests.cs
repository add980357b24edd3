using CsCheck;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Reach;

namespace ProbeRunner.Machine.Tests.Reach;

public sealed class ReachableAreaTests
{
    [Fact]
    public void A_probe_left_of_the_nozzle_cannot_reach_the_right_of_the_bed()
    {
        // By hand: nozzle travel 0..240 x 0..240, probe 38 to the left and 9 in front: tip -38..202 x -9..231; plate inset by 5: 5..235.
        ReachableArea reach = ReachableArea.ForProbe(Shipped.Wren);

        Assert.Equal(new BedRectangle(5, 5, 202, 231), reach.Bounds);
        Assert.True(reach.CanTouch(new BedPoint(120, 120)));
        Assert.False(reach.CanTouch(new BedPoint(210, 120)));
        Assert.Contains(new BedRectangle(202, 0, 240, 240), reach.UnreachableStrips());
    }

    [Fact]
    public void A_place_is_excluded_when_the_nozzle_beside_the_probe_would_meet_a_clip()
    {
        // Wren's back clip spans x 100..140, y 234..240; the nozzle stands 38 right of and 9 behind the probe's tip.
        ReachableArea reach = ReachableArea.ForProbe(Shipped.Wren);

        Assert.False(reach.CanTouch(new BedPoint(82, 228)));
        Assert.True(reach.CanTouch(new BedPoint(82, 215)));
        Assert.False(reach.CanTouch(new BedPoint(120, 7)));
    }

    [Fact]
    public void Strips_and_bounds_cover_the_plate_without_overlap() =>
        Gen.Select(Gen.Double[0, 240], Gen.Double[0, 240]).Sample((x, y) =>
        {
            ReachableArea reach = ReachableArea.ForProbe(Shipped.Wren);
            var place = new BedPoint(x, y);
            int covers = reach.UnreachableStrips().Count(strip => strip.Contains(place)) + (reach.Bounds.Contains(place) ? 1 : 0);
            Assert.True(covers >= 1);
        });

    [Fact]
    public void Where_the_probe_can_touch_the_nozzle_is_within_its_travel_and_off_the_clips() =>
        Gen.Select(Gen.Double[-20, 350], Gen.Double[-20, 350]).Sample((x, y) =>
        {
            foreach (var machine in new[] { Shipped.Wren, Shipped.Heron })
            {
                var place = new BedPoint(x, y);
                if (ReachableArea.ForProbe(machine).CanTouch(place))
                {
                    var nozzle = new BedPoint(x - machine.Probe.Offset.X, y - machine.Probe.Offset.Y);
                    Assert.True(machine.Travel.Nozzle.Contains(nozzle));
                    Assert.DoesNotContain(machine.Bed.Clips, clip => clip.Contains(nozzle) || clip.Contains(place));
                }
            }
        });
}
