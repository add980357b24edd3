using System.Collections.Immutable;
using System.Text.Json.Serialization;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>What a step concluded; kept in the journal as JSON and read by the report.</summary>
/// <param name="Verdict">The judgement.</param>
/// <param name="Findings">For a person, most important first.</param>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind")]
[JsonDerivedType(typeof(PlainConclusion), "plain")]
[JsonDerivedType(typeof(PreflightConclusion), "preflight")]
[JsonDerivedType(typeof(SelfCheckConclusion), "self-check")]
[JsonDerivedType(typeof(HeaterTrialConclusion), "heater-trial")]
[JsonDerivedType(typeof(TouchReportConclusion), "touch-report-check")]
[JsonDerivedType(typeof(XyOffsetConclusion), "probe-offset")]
[JsonDerivedType(typeof(SeriesConclusion), "series")]
[JsonDerivedType(typeof(FirstLayerConclusion), "first-layer")]
[JsonDerivedType(typeof(ScrewsConclusion), "screws")]
[JsonDerivedType(typeof(StepDownConclusion), "step-down")]
[JsonDerivedType(typeof(WarmUpConclusion), "warm-up")]
[JsonDerivedType(typeof(CheckAgainConclusion), "check-again")]
[JsonDerivedType(typeof(TouchTuningConclusion), "touch-tuning")]
[JsonDerivedType(typeof(GantryLevelConclusion), "gantry-level")]
[JsonDerivedType(typeof(LeanConclusion), "lean")]
[JsonDerivedType(typeof(CaptureConclusion), "capture")]
[JsonDerivedType(typeof(MeshConclusion), "mesh")]
[JsonDerivedType(typeof(SettingsConclusion), "settings")]
[JsonDerivedType(typeof(SilenceTrialConclusion), "silence-trial")]
[JsonDerivedType(typeof(VerifyConclusion), "verify")]
public abstract record StepConclusion(StepVerdict Verdict, ImmutableArray<Finding> Findings)
{
    /// <summary>Under what conditions it was measured, as numbers; null where they don't matter, and in a record of before they were kept.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public TakenUnder? TakenUnder { get; init; }
}

/// <summary>Done, with nothing measured (a lift, a homing).</summary>
public sealed record PlainConclusion(StepVerdict Verdict, ImmutableArray<Finding> Findings) : StepConclusion(Verdict, Findings);

/// <summary>Readings at one place.</summary>
/// <param name="Place">Where.</param>
/// <param name="Readings">All that count, in order.</param>
/// <param name="MeanMm">Mean Z.</param>
/// <param name="SigmaMm">Standard deviation.</param>
/// <param name="SigmaLowerMm">Lower limit of its interval.</param>
/// <param name="SigmaUpperMm">Upper limit of its interval.</param>
/// <param name="SigmaConfidence">Confidence of that interval, 0 to 1.</param>
/// <param name="Design">What was done between the touches: "plain", "plate", "extensions", "homings", "travel", "places" or "nested".</param>
/// <param name="Parts">Where the scatter comes from, outermost first; null for a plain series. Sigma above is then that of the touches alone.</param>
public sealed record SeriesConclusion(
    StepVerdict Verdict,
    ImmutableArray<Finding> Findings,
    BedPoint Place,
    ImmutableArray<Reading> Readings,
    double MeanMm,
    double SigmaMm,
    double SigmaLowerMm,
    double SigmaUpperMm,
    double SigmaConfidence,
    string Design = "plain",
    IReadOnlyList<ScatterPart>? Parts = null) : StepConclusion(Verdict, Findings);

/// <summary>What one source contributes to the scatter of a series.</summary>
/// <param name="Source">In words: "homing", "extension", "touch".</param>
/// <param name="SigmaMm">Standard deviation.</param>
/// <param name="LowerMm">Lower 95 % limit.</param>
/// <param name="UpperMm">Upper 95 % limit.</param>
public sealed record ScatterPart(string Source, double SigmaMm, double LowerMm, double UpperMm);

/// <summary>One answered height of a step-down.</summary>
/// <param name="Take">Which take, from 1.</param>
/// <param name="HeightMm">Nozzle Z when asked.</param>
/// <param name="Felt">"free", "drags" or "pinched".</param>
public readonly record struct FeltHeight(int Take, double HeightMm, string Felt);

/// <summary>One line of an uncertainty budget.</summary>
public sealed record BudgetLine(string Name, double StandardUncertaintyMm, double Share);

/// <summary>Readings over the bed and the surface they describe.</summary>
/// <param name="Area">The rectangle captured.</param>
/// <param name="Columns">Grid columns; 0 when the places were chosen as it went.</param>
/// <param name="Rows">Grid rows; 0 likewise.</param>
/// <param name="Readings">Those that count, one for each place, epoch and visit, in the order taken.</param>
/// <param name="Map">The surface on an even lattice for drawing, heights relative to the homing place.</param>
/// <param name="TiltXMm">Rise from left to right over the captured area.</param>
/// <param name="TiltYMm">Rise from front to back.</param>
/// <param name="FlatnessMm">Minimum zone.</param>
/// <param name="RmsMm">Of plane residuals.</param>
/// <param name="Conditions">Temperatures, in words.</param>
/// <param name="Details">Touches, drift, datums, shape and mesh.</param>
public sealed record CaptureConclusion(
    StepVerdict Verdict,
    ImmutableArray<Finding> Findings,
    BedRectangle Area,
    int Columns,
    int Rows,
    ImmutableArray<Reading> Readings,
    SurfaceMap Map,
    double TiltXMm,
    double TiltYMm,
    double FlatnessMm,
    double RmsMm,
    string Conditions,
    CaptureDetails? Details = null) : StepConclusion(Verdict, Findings);

/// <summary>A surface on an even lattice.</summary>
/// <param name="Area">Rectangle the lattice spans.</param>
/// <param name="Heights">Row-major, front row first; mm.</param>
/// <param name="Uncertainties">Standard uncertainty at the same places, mm.</param>
public sealed record SurfaceMap(
    BedRectangle Area, int Columns, int Rows, ImmutableArray<double> Heights, ImmutableArray<double> Uncertainties);

/// <summary>The correction mesh that was written.</summary>
/// <param name="Wanted">What was fitted.</param>
/// <param name="ReadBack">What the controller says it has; null when it cannot say.</param>
/// <param name="ResidualRmsMm">What remains of the surface after the controller's interpolation.</param>
/// <param name="ByHand">What to enter when the controller cannot take the nodes, or to paste when it forgets them; empty otherwise.</param>
public sealed record MeshConclusion(
    StepVerdict Verdict,
    ImmutableArray<Finding> Findings,
    MeshNodes Wanted,
    MeshNodes? ReadBack,
    double ResidualRmsMm,
    double ResidualWorstMm,
    string ByHand) : StepConclusion(Verdict, Findings)
{
    /// <summary>The line for a slicer's start code, with where it goes and why; empty when no mesh was handed over.</summary>
    public string StartCode { get; init; } = string.Empty;

    /// <summary>What the mesh follows beyond the captured map; null when it follows the map alone.</summary>
    public BeyondMap? Change { get; init; }
}

/// <summary>Settings stored, and how they differ from those found.</summary>
/// <param name="StartCodeLine">The line to add to the slicer's start code, rendered by the dialect.</param>
public sealed record SettingsConclusion(
    StepVerdict Verdict,
    ImmutableArray<Finding> Findings,
    SettingsReport Before,
    SettingsReport After,
    ImmutableArray<ChangedSetting> Changes,
    string StartCodeLine) : StepConclusion(Verdict, Findings);

/// <summary>A setting before and after.</summary>
public sealed record ChangedSetting(string Setting, string Before, string After);

/// <summary>The offset proven after a new homing: at 5 mm, at 1 mm, on paper.</summary>
/// <param name="PaperHeightMm">Nozzle Z at which paper dragged, new epoch, offset in force.</param>
/// <param name="DifferenceMm">From what the offset promised.</param>
public sealed record VerifyConclusion(
    StepVerdict Verdict, ImmutableArray<Finding> Findings, double PaperHeightMm, double DifferenceMm) : StepConclusion(Verdict, Findings);
