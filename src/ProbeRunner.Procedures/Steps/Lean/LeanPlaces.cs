using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Procedures.Steps.Lean;

/// <summary>Places in a row through the homing place that both the probe and the nozzle can come down on.</summary>
/// <param name="Axis">"X" or "Y".</param>
/// <param name="Places">Evenly spread, left to right or front to back.</param>
internal sealed record LeanPlaces(string Axis, ImmutableArray<BedPoint> Places)
{
    /// <summary>Kept from the plate's edge: the nozzle's paper must lie flat.</summary>
    private const double EdgeMm = 8;

    private const double StepMm = 1;

    /// <summary>Shorter than this share of the bed, and a slope says little about its sides.</summary>
    private const double LeastShare = 0.3;

    /// <summary>Where a reading or a drag of the place counts on the axis.</summary>
    public double Along(BedPoint place) => Axis == "X" ? place.X : place.Y;

    /// <summary>The places; fewer than asked for where clips are in the way.</summary>
    public static LeanPlaces Of(MachineProfile profile, ProbeOffset offset, string axis, int count)
    {
        ReachableArea probe = ReachableArea.ForProbe(profile, offset);
        ReachableArea nozzle = ReachableArea.ForNozzle(profile, offset);
        BedRectangle inner = new BedRectangle(0, 0, profile.Bed.WidthMm, profile.Bed.DepthMm).Inset(EdgeMm);
        BedPoint home = profile.Travel.HomingPlace;
        double length = axis == "X" ? profile.Bed.WidthMm : profile.Bed.DepthMm;
        List<BedPoint> free =
        [
            .. Enumerable.Range(0, (int)(length / StepMm) + 1)
                .Select(step => axis == "X" ? home with { X = step * StepMm } : home with { Y = step * StepMm })
                .Where(place => inner.Contains(place) && probe.CanTouch(place) && nozzle.CanTouch(place)),
        ];
        if (free.Count < count || free[^1].DistanceTo(free[0]) < LeastShare * length)
        {
            return new LeanPlaces(axis, []);
        }

        return new LeanPlaces(axis, [.. Enumerable.Range(0, count).Select(index => Nearest(free, index / (count - 1.0)))]);
    }

    private static BedPoint Nearest(List<BedPoint> free, double share)
    {
        BedPoint first = free[0];
        BedPoint last = free[^1];
        var wanted = new BedPoint(first.X + ((last.X - first.X) * share), first.Y + ((last.Y - first.Y) * share));
        return free.MinBy(place => place.DistanceTo(wanted));
    }
}
