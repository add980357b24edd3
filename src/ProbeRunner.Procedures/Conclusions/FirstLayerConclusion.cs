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
public sealed record FirstLayerConclusion(
    StepVerdict Verdict,
    ImmutableArray<Finding> Findings,
    ImmutableArray<SeenPatch> Patches,
    double CorrectionMm,
    double StandardUncertaintyMm,
    double LowerMm,
    double UpperMm,
    bool FoldedIn,
    string Conditions) : StepConclusion(Verdict, Findings);

/// <summary>A patch, the height it was laid at, and how it looks: "gaps", "good" or "ridges".</summary>
public readonly record struct SeenPatch(BedPoint Place, double HeightMm, string Look);
