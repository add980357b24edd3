using System.Collections.Immutable;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>A bed compared with an earlier capture of it.</summary>
/// <param name="AgainstRun">The run of that capture.</param>
/// <param name="Readings">Those over the bed, in order.</param>
/// <param name="ToleranceMm">Change that doesn't matter.</param>
/// <param name="Changes">Tilt, bow, twist, the four corners and the largest local change, each with its interval.</param>
/// <param name="SigmaThenMm">The probe's scatter then; null when that run had no series.</param>
/// <param name="SigmaNowMm">The probe's scatter now.</param>
/// <param name="SigmaRatioLower">Lower 95 % limit of now over then; null as above.</param>
/// <param name="SigmaRatioUpper">Upper limit.</param>
/// <param name="OffsetThen">The probe offset then; null when it wasn't on record.</param>
/// <param name="OffsetNow">The probe offset now.</param>
/// <param name="ConditionsThen">In words.</param>
/// <param name="ConditionsNow">In words.</param>
public sealed record CheckAgainConclusion(
    StepVerdict Verdict,
    ImmutableArray<Finding> Findings,
    string AgainstRun,
    ImmutableArray<Reading> Readings,
    double ToleranceMm,
    ImmutableArray<BedChange> Changes,
    double? SigmaThenMm,
    double SigmaNowMm,
    double? SigmaRatioLower,
    double? SigmaRatioUpper,
    ProbeOffset? OffsetThen,
    ProbeOffset OffsetNow,
    string ConditionsThen,
    string ConditionsNow) : StepConclusion(Verdict, Findings);

/// <summary>One change of a bed, now less then.</summary>
/// <param name="Name">In words: "tilt left to right", "back right corner".</param>
/// <param name="Matters">"yes", "no" or "open", against the tolerance.</param>
public sealed record BedChange(string Name, double ChangeMm, double LowerMm, double UpperMm, string Matters);
