using System.Collections.Immutable;
using System.Globalization;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Screens.Watching;

/// <summary>The picture of a first layer while it is laid and looked at.</summary>
internal static class FirstLayerWatch
{
    private const int MostPatches = 200;
    private const string Skipped = "skip";

    /// <summary>Before anything was laid.</summary>
    public static FirstLayerState Nothing(MachineProfile profile) =>
        new(BedOutline.Of(profile), [], profile.FirstLayer.LowestGapMm, profile.FirstLayer.HighestGapMm, null, null, null);

    /// <summary>After an event.</summary>
    public static FirstLayerState After(FirstLayerState state, RunEvent told) => told switch
    {
        PatchLaid e => state with { Patches = Laid(state.Patches, e) },
        Nudged e => state with { NudgeMm = e.TotalMm },
        MachineSeen e => state with { Nozzle = e.Machine.Position },
        PromptAsked { Prompt: { Id: PromptIds.FirstLayerPatch } asked } when PlaceOf(asked.About) is { } place => state with { Patches = Now(state.Patches, place) },
        AnswerGiven { PromptId: PromptIds.FirstLayerPatch } e => state with
        {
            Patches = [.. state.Patches.Select(patch => patch.IsNow ? patch with { IsNow = false, Look = e.Value == Skipped ? string.Empty : e.Value } : patch)],
        },
        _ => state,
    };

    /// <summary>Once it is concluded.</summary>
    public static FirstLayerState Concluded(FirstLayerState state, FirstLayerConclusion concluded) => state with
    {
        Patches = [.. concluded.Patches.Select(patch => new PatchMark(patch.Place, patch.HeightMm, patch.Look, false))],
        NudgeMm = null,
        CorrectionMm = (concluded.CorrectionMm, concluded.LowerMm, concluded.UpperMm),
    };

    private static ImmutableArray<PatchMark> Now(ImmutableArray<PatchMark> patches, BedPoint place)
    {
        bool isKnown = patches.Any(patch => patch.Place.DistanceTo(place) < 0.1);
        ImmutableArray<PatchMark> marked = [.. patches.Select(patch => patch with { IsNow = patch.Place.DistanceTo(place) < 0.1 })];
        return isKnown || marked.Length >= MostPatches ? marked : marked.Add(new PatchMark(place, null, string.Empty, true));
    }

    private static ImmutableArray<PatchMark> Laid(ImmutableArray<PatchMark> patches, PatchLaid laid) => patches.Length >= MostPatches
        ? patches
        : [.. patches.Where(patch => patch.Place.DistanceTo(laid.Place) >= 0.1), new PatchMark(laid.Place, laid.HeightMm, string.Empty, false)];

    private static BedPoint? PlaceOf(string about)
    {
        string[] parts = about.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return parts.Length >= 2
            && double.TryParse(parts[0], NumberStyles.Float, CultureInfo.InvariantCulture, out double x)
            && double.TryParse(parts[1], NumberStyles.Float, CultureInfo.InvariantCulture, out double y)
            ? new BedPoint(x, y)
            : null;
    }
}
