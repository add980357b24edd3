using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;

namespace ProbeRunner.Procedures.Steps.FirstLayer;

/// <summary>Which places serve what: for the height those where the map is most certain, for the check of the map those where it is most doubtful.</summary>
/// <param name="ForHeight">In the order they are laid, well spread.</param>
/// <param name="ForMap">Pairs of places side by side.</param>
internal sealed record PatchPlan(ImmutableArray<BedPoint> ForHeight, ImmutableArray<(BedPoint Low, BedPoint High)> ForMap)
{
    private const int HeightPlaces = 16;

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

        List<BedPoint> certain = prediction is null ? free : [.. free.OrderBy(place => prediction.At(place).UncertaintyMm).Take(Math.Max(HeightPlaces, free.Count / 2))];
        return new PatchPlan(Spread(certain, profile.Travel.HomingPlace), pairs.ToImmutable());
    }

    private static ImmutableArray<BedPoint> Spread(List<BedPoint> places, BedPoint middle)
    {
        var chosen = new List<BedPoint> { places.MinBy(middle.DistanceTo) };
        while (chosen.Count < Math.Min(HeightPlaces, places.Count))
        {
            chosen.Add(places.MaxBy(place => chosen.Min(place.DistanceTo)));
        }

        return [.. chosen];
    }
}
