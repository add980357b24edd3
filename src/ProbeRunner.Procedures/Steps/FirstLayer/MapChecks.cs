using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Metrology.Ordinal;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.FirstLayer;

/// <summary>What pairs of patches say of the predicted gap map.</summary>
internal static class MapChecks
{
    /// <summary>Closer than this a pair of looks says nothing against the map, mm.</summary>
    public const double MarginMm = 0.02;

    private const double SureFactor = 2;

    /// <summary>Judges each place.</summary>
    /// <param name="seen">The patches of the pairs, judged.</param>
    public static ImmutableArray<MapCheck> Of(PatchPlan plan, ImmutableArray<SeenPatch> seen, HeightCorrection known, GapPrediction prediction, FirstLayerProfile layer) =>
    [
        .. plan.ForMap.Select(pair => (Place: pair.Low, Patches: seen.Where(patch => patch.Place == pair.Low || patch.Place == pair.High).ToList()))
            .Where(check => check.Patches.Count > 0)
            .Select(check => One(check.Place, check.Patches, known, prediction, layer)),
    ];

    /// <summary>A finding for each place that the looks contradict.</summary>
    public static ImmutableArray<Finding> Findings(MachineProfile profile, ImmutableArray<MapCheck> checks, HeightCorrection known) =>
        [.. checks.Where(check => check.Says != MapCheck.Agrees).Select(check => Finding(profile, check, known))];

    private static MapCheck One(BedPoint place, List<SeenPatch> patches, HeightCorrection known, GapPrediction prediction, FirstLayerProfile layer)
    {
        PlaceDeviation deviation = PlaceDeviation.Of(
            patches.Select(patch => new JudgedPatch(patch.HeightMm + prediction.At(patch.Place).WiderMm, FirstLayerStep.Look(patch.Look))), known, layer.LowestGapMm, layer.HighestGapMm);
        (double wider, double uncertainty) = prediction.At(place);
        return new MapCheck(
            place,
            Math.Round(layer.HeightMm + wider, 4),
            Math.Round(uncertainty, 4),
            double.IsFinite(deviation.LeastMm) ? Math.Round(deviation.LeastMm, 4) : null,
            double.IsFinite(deviation.MostMm) ? Math.Round(deviation.MostMm, 4) : null,
            deviation.MostMm < 0 ? MapCheck.Nearer : deviation.LeastMm > 0 ? MapCheck.Farther : MapCheck.Agrees);
    }

    private static Finding Finding(MachineProfile profile, MapCheck check, HeightCorrection known)
    {
        double least = Math.Abs((check.Says == MapCheck.Nearer ? check.MostMm : check.LeastMm) ?? 0);
        bool isSure = least > SureFactor * double.Hypot(check.UncertaintyMm, known.StandardUncertaintyMm);
        string where = Region(profile, check.Place);
        return new Finding(
            FormattableString.Invariant($"first-layer.map-{where.Replace(' ', '-')}"),
            $"At the {where} the gap is not what the map promises: the bed is {(check.Says == MapCheck.Nearer ? "higher" : "lower")} there.",
            least,
            where,
            isSure ? 0.95 : 0.7,
            FormattableString.Invariant($"Around x {check.Place.X:0}, y {check.Place.Y:0} a gap of {check.PredictedGapMm:0.000} mm was promised, give or take {2 * check.UncertaintyMm:0.000}; by the patches it is at least {least:0.000} mm {(check.Says == MapCheck.Nearer ? "less" : "more")}."),
            isSure
                ? "Capture the bed again hot, densely there. If the probe can't reach that part, don't print on it, or shim the plate."
                : "The map knows little of that part; where the probe can reach it, capture it more densely.");
    }

    private static string Region(MachineProfile profile, BedPoint place)
    {
        string x = Third(place.X / profile.Bed.WidthMm, "left", "right");
        string y = Third(place.Y / profile.Bed.DepthMm, "front", "back");
        return (x, y) switch
        {
            ("", "") => "middle",
            (_, "") => x,
            ("", _) => y,
            _ => $"{y} {x}",
        };
    }

    private static string Third(double part, string first, string last) => part < 1 / 3.0 ? first : part > 2 / 3.0 ? last : string.Empty;
}
