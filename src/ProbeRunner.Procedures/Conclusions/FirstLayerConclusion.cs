using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>Patches of a first layer, judged by a person.</summary>
/// <param name="Patches">In the order they were laid.</param>
/// <param name="CorrectionMm">To be added to the Z offset; negative brings the nozzle nearer.</param>
/// <param name="StandardUncertaintyMm">Of the correction.</param>
/// <param name="LowerMm">Lower end of its 95 % interval.</param>
/// <param name="UpperMm">Upper end.</param>
/// <param name="FoldedIn">Whether it was added to the offset after the person confirmed.</param>
/// <param name="Conditions">Temperatures, in words.</param>
/// <param name="Checks">What pairs of patches say of the predicted gap map; null or empty when the run had no map.</param>
public sealed record FirstLayerConclusion(
    StepVerdict Verdict,
    ImmutableArray<Finding> Findings,
    ImmutableArray<SeenPatch> Patches,
    double CorrectionMm,
    double StandardUncertaintyMm,
    double LowerMm,
    double UpperMm,
    bool FoldedIn,
    string Conditions,
    IReadOnlyList<MapCheck>? Checks = null) : StepConclusion(Verdict, Findings);

/// <summary>A patch, the height it was really laid at (the mean of its rows, nudges included), and how it looks: "gaps", "good" or "ridges".</summary>
public readonly record struct SeenPatch(BedPoint Place, double HeightMm, string Look);

/// <summary>One place of the gap map, checked by patches.</summary>
/// <param name="Place">Where.</param>
/// <param name="PredictedGapMm">The gap promised there at the set height, mm.</param>
/// <param name="UncertaintyMm">The map's own standard uncertainty there, mm.</param>
/// <param name="LeastMm">The gap is at least this much wider than promised, mm; null when the looks don't say.</param>
/// <param name="MostMm">It is at most this much wider, mm; null when the looks don't say.</param>
/// <param name="Says">"agrees", "nearer" or "farther".</param>
public sealed record MapCheck(BedPoint Place, double PredictedGapMm, double UncertaintyMm, double? LeastMm, double? MostMm, string Says)
{
    /// <summary>The looks fit the map.</summary>
    public const string Agrees = "agrees";

    /// <summary>The bed is nearer to the nozzle than the map says.</summary>
    public const string Nearer = "nearer";

    /// <summary>The bed is farther from it.</summary>
    public const string Farther = "farther";
}
