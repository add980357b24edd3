using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;

namespace ProbeRunner.Procedures.Steps.Screws;

/// <summary>Where the bed is touched for its screws: as near to each as the probe can reach, and at the homing place, which shows a bend.</summary>
/// <param name="AtScrews">One for each screw, in the profile's order.</param>
/// <param name="Middle">The homing place.</param>
internal sealed record ScrewPlaces(ImmutableArray<BedPoint> AtScrews, BedPoint Middle)
{
    private const double RingMm = 2;
    private const int Rings = 40;
    private const int Directions = 16;

    /// <summary>The places on a machine; null when the probe reaches no place near some screw.</summary>
    public static ScrewPlaces? Near(MachineProfile profile, ReachableArea reach)
    {
        BedPoint?[] places = [.. profile.Screws.Select(screw => Nearest(screw.Place, reach))];
        return places.Contains(null) ? null : new ScrewPlaces([.. places.Select(place => place!.Value)], profile.Travel.HomingPlace);
    }

    private static BedPoint? Nearest(BedPoint screw, ReachableArea reach)
    {
        if (reach.Bounds.IsEmpty)
        {
            return null;
        }

        var inside = new BedPoint(
            Math.Clamp(screw.X, reach.Bounds.MinX, reach.Bounds.MaxX), Math.Clamp(screw.Y, reach.Bounds.MinY, reach.Bounds.MaxY));
        IEnumerable<BedPoint> around = Enumerable.Range(1, Rings).SelectMany(ring => Enumerable.Range(0, Directions).Select(direction => new BedPoint(
            Math.Round(inside.X + (ring * RingMm * Math.Cos(2 * Math.PI * direction / Directions)), 2),
            Math.Round(inside.Y + (ring * RingMm * Math.Sin(2 * Math.PI * direction / Directions)), 2))));
        return around.Prepend(inside).Where(reach.CanTouch).Cast<BedPoint?>().FirstOrDefault();
    }
}
