using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;

namespace ProbeRunner.Procedures.Steps.FirstLayer;

/// <summary>
/// Which places serve what: for the height places evenly over the printable area, so that what the map doesn't know averages out over them as over
/// the area; for the check of the map those where it is most doubtful.
/// </summary>
/// <param name="ForHeight">In the order they are laid.</param>
/// <param name="ForMap">Pairs of places side by side.</param>
internal sealed record PatchPlan(ImmutableArray<BedPoint> ForHeight, ImmutableArray<(BedPoint Low, BedPoint High)> ForMap)
{
    private const int HeightSide = 4;
    private const int HeightPlaces = HeightSide * HeightSide;

    /// <summary>Chooses the places.</summary>
    /// <param name="prediction">What the map promises; null when there is none, then no map is checked.</param>
    /// <param name="checks">How many places of the map are checked.</param>
    public static PatchPlan For(MachineProfile profile, GapPrediction? prediction, int checks)
    {
        List<BedPoint> free = [.. PatchPlaces.On(profile)];
        var pairs = ImmutableArray.CreateBuilder<(BedPoint, BedPoint)>();
        foreach (BedPoint worst in PatchPlaces.Worst([.. free], prediction, free.Count > HeightPlaces + (2 * checks) ? checks : 0))
        {
            free.Remove(worst);
            BedPoint beside = free.MinBy(worst.DistanceTo);
            free.Remove(beside);
            pairs.Add((worst, beside));
        }

        // Where no touch came near the map only guesses: a guess tells nothing of the height.
        List<BedPoint> known = prediction is null ? free : [.. free.OrderBy(place => prediction.At(place).UncertaintyMm).Take(Math.Max(HeightPlaces, free.Count * 3 / 4))];
        return new PatchPlan(Spread(EvenlyOver(profile.Bed.Printable, known), profile.Travel.HomingPlace), pairs.ToImmutable());
    }

    /// <summary>The place nearest to the middle of each of equal parts of the area.</summary>
    private static List<BedPoint> EvenlyOver(BedRectangle area, List<BedPoint> free)
    {
        var chosen = new List<BedPoint>();
        for (int part = 0; part < HeightSide * HeightSide && chosen.Count < free.Count; part++)
        {
            var middle = new BedPoint(
                area.MinX + ((area.MaxX - area.MinX) * ((part % HeightSide) + 0.5) / HeightSide), area.MinY + ((area.MaxY - area.MinY) * ((part / HeightSide) + 0.5) / HeightSide));
            chosen.Add(free.Except(chosen).MinBy(middle.DistanceTo));
        }

        return chosen;
    }

    /// <summary>In an order in which each next one is far from those before, beginning in the middle.</summary>
    private static ImmutableArray<BedPoint> Spread(List<BedPoint> places, BedPoint middle)
    {
        var chosen = new List<BedPoint> { places.MinBy(middle.DistanceTo) };
        while (chosen.Count < places.Count)
        {
            chosen.Add(places.MaxBy(place => chosen.Min(place.DistanceTo)));
        }

        return [.. chosen];
    }
}
