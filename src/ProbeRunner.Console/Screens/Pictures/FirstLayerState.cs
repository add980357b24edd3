using System.Collections.Immutable;
using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>The first layer being laid and looked at.</summary>
/// <param name="Bed">The bed.</param>
/// <param name="Patches">In the order they are laid.</param>
/// <param name="LowestGapMm">Below this plastic is squeezed out.</param>
/// <param name="HighestGapMm">Above this it does not stick.</param>
/// <param name="Nozzle">Where the nozzle is; null when not known.</param>
/// <param name="NudgeMm">How far the nozzle was moved by hand; negative is nearer to the bed. Null where it can't be.</param>
/// <param name="CorrectionMm">What the looks say the offset wants; null before that is known.</param>
internal sealed record FirstLayerState(
    BedOutline Bed,
    ImmutableArray<PatchMark> Patches,
    double LowestGapMm,
    double HighestGapMm,
    NozzlePosition? Nozzle,
    double? NudgeMm,
    (double Value, double Lower, double Upper)? CorrectionMm) : PictureState
{
    /// <summary>A nudge goes no further than this, mm.</summary>
    public const double MostNudgeMm = 0.2;
}

/// <summary>One patch.</summary>
/// <param name="Place">Its middle.</param>
/// <param name="HeightMm">What it was laid at; null when that is not known yet.</param>
/// <param name="Look">"gaps", "good" or "ridges"; empty before it was judged.</param>
/// <param name="IsNow">Whether it is being laid or looked at now.</param>
internal sealed record PatchMark(BedPoint Place, double? HeightMm, string Look, bool IsNow);
