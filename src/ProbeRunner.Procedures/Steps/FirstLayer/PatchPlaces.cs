using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;

namespace ProbeRunner.Procedures.Steps.FirstLayer;

/// <summary>Where patches are laid: inside the printable area, off the clips, never one on another.</summary>
internal static class PatchPlaces
{
    /// <summary>Side of a patch, mm.</summary>
    public const double SideMm = 16;

    private const double EdgeMm = 4;
    private const double ApartMm = 4;
    private const double WorstApartMm = 60;

    /// <summary>All places that a patch fits on, evenly spread; no two patches touch.</summary>
    public static ImmutableArray<BedPoint> On(MachineProfile profile)
    {
        BedRectangle area = profile.Bed.Printable.Inset((SideMm / 2) + EdgeMm);
        ReachableArea reach = ReachableArea.ForNozzle(profile);
        return
        [
            .. from y in Evenly(area.MinY, area.MaxY)
               from x in Evenly(area.MinX, area.MaxX)
               let place = new BedPoint(x, y)
               where Corners(place).All(reach.CanTouch)
               select place,
        ];
    }

    /// <summary>Places in the order in which patches tell most: the worst predicted, the corners, the middle, then wherever none is near.</summary>
    /// <param name="prediction">What the map promises; null when there is none.</param>
    /// <param name="worst">How many of the worst predicted come first.</param>
    /// <param name="count">How many are wanted; fewer come when fewer fit.</param>
    public static ImmutableArray<BedPoint> Chosen(MachineProfile profile, GapPrediction? prediction, int worst, int count)
    {
        ImmutableArray<BedPoint> all = On(profile);
        var chosen = new List<BedPoint>(Worst(all, prediction, worst));
        BedRectangle area = profile.Bed.Printable;
        BedPoint[] wanted =
        [
            new(area.MinX, area.MinY), new(area.MaxX, area.MaxY), new(area.MaxX, area.MinY), new(area.MinX, area.MaxY),
            new((area.MinX + area.MaxX) / 2, (area.MinY + area.MaxY) / 2),
        ];
        chosen.AddRange(wanted.Select(place => all.MinBy(place.DistanceTo)).Where(place => !chosen.Contains(place)).Distinct().ToList());
        while (chosen.Count < Math.Min(count, all.Length))
        {
            chosen.Add(all.MaxBy(place => chosen.Min(place.DistanceTo)));
        }

        return [.. chosen.Take(count)];
    }

    /// <summary>The places at which a first layer is most doubtful by the prediction, well apart; none without a prediction.</summary>
    public static ImmutableArray<BedPoint> Worst(ImmutableArray<BedPoint> places, GapPrediction? prediction, int count)
    {
        var worst = new List<BedPoint>();
        foreach (BedPoint place in prediction?.WorstFirst(places) ?? [])
        {
            if (worst.Count < count && worst.All(other => other.DistanceTo(place) >= WorstApartMm))
            {
                worst.Add(place);
            }
        }

        return [.. worst];
    }

    /// <summary>The height at which a patch gets a gap, as predicted at its place, within what may be laid at.</summary>
    public static double HeightFor(FirstLayerProfile layer, GapPrediction? prediction, BedPoint place, double gapMm) =>
        Bounded(layer, gapMm - (prediction?.At(place).WiderMm ?? 0));

    /// <summary>A height within what may be laid at: half the layer's height to twice it.</summary>
    public static double Bounded(FirstLayerProfile layer, double heightMm) =>
        Math.Round(Math.Clamp(heightMm, layer.HeightMm / 2, 2 * layer.HeightMm), 3);

    private static IEnumerable<BedPoint> Corners(BedPoint place) =>
        [new(place.X - (SideMm / 2), place.Y - (SideMm / 2)), new(place.X + (SideMm / 2), place.Y - (SideMm / 2)), new(place.X - (SideMm / 2), place.Y + (SideMm / 2)), new(place.X + (SideMm / 2), place.Y + (SideMm / 2))];

    private static IEnumerable<double> Evenly(double least, double most)
    {
        int count = most < least ? 0 : (int)((most - least) / (SideMm + ApartMm)) + 1;
        return Enumerable.Range(0, count).Select(index => Math.Round(count == 1 ? (least + most) / 2 : least + ((most - least) * index / (count - 1)), 1));
    }
}
