using System.Collections.Immutable;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.CaptureComparison;
using ProbeRunner.Metrology.Comparison;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Records.Comparisons;

/// <summary>What doesn't matter when two runs are compared.</summary>
/// <param name="OffsetMm">Change of the Z offset; a tenth of a usual first layer.</param>
/// <param name="BedMm">Change of the bed's shape.</param>
public sealed record ComparisonTolerances(double OffsetMm = 0.02, double BedMm = 0.05);

/// <summary>A number of one run beside the same of another.</summary>
/// <param name="Then">In the earlier run.</param>
/// <param name="Now">In the later run.</param>
/// <param name="Change">Later less earlier, or later over earlier for a ratio.</param>
/// <param name="Lower">Lower 95 % limit of the change.</param>
/// <param name="Upper">Upper limit.</param>
/// <param name="Matters">Whether it matters.</param>
public sealed record ComparedNumber(double Then, double Now, double Change, double Lower, double Upper, Mattering Matters);

/// <summary>Two runs of one machine side by side: Z offset, probe, bed. What one of them has not is named, not made up.</summary>
/// <param name="Earlier">Name of the earlier run.</param>
/// <param name="Later">Name of the later run.</param>
/// <param name="Offset">Z offset; null when one of them has none.</param>
/// <param name="Probe">Scatter of the probe, its change a ratio; null likewise.</param>
/// <param name="Bed">The bed's shape; null likewise.</param>
/// <param name="BedLaterTilt">Tilt of the later bed, left to right and front to back, for orientation; null without captures.</param>
/// <param name="ConditionsThen">Under which the earlier bed was captured; empty without.</param>
/// <param name="ConditionsNow">Under which the later bed was captured; empty without.</param>
/// <param name="Missing">What could not be compared, with the reason.</param>
public sealed record RunComparison(
    string Earlier,
    string Later,
    ComparedNumber? Offset,
    ComparedNumber? Probe,
    JudgedDifference? Bed,
    (double X, double Y)? BedLaterTilt,
    string ConditionsThen,
    string ConditionsNow,
    ImmutableArray<string> Missing)
{
    private const double Coverage = 1.959963984540054;

    /// <summary>Whether the beds were captured under conditions that can't be set beside each other.</summary>
    public bool ConditionsDiffer { get; init; }

    /// <summary>All changes together.</summary>
    public Mattering Matters => new[] { Offset?.Matters, Probe?.Matters, Bed?.Matters }.Max() ?? Mattering.No;

    /// <summary>Whether anything could be compared at all.</summary>
    public bool HasAnything => Offset is not null || Probe is not null || Bed is not null;

    /// <summary>Compares two runs; whichever began first is the earlier one.</summary>
    public static RunComparison Of(RunRecord one, RunRecord other, ComparisonTolerances? tolerances = null)
    {
        ArgumentNullException.ThrowIfNull(one);
        ArgumentNullException.ThrowIfNull(other);
        (RunRecord then, RunRecord now) = one.Header.StartedAt <= other.Header.StartedAt ? (one, other) : (other, one);
        ComparisonTolerances allowed = tolerances ?? new ComparisonTolerances();
        var missing = new List<string>();
        ComparedNumber? offset = OffsetOf(then, now, allowed.OffsetMm, missing);
        ComparedNumber? probe = ProbeOf(then, now, missing);
        JudgedDifference? bed = BedOf(then, now, allowed.BedMm, missing);
        CaptureConclusion? earlier = then.Conclusion<CaptureConclusion>();
        CaptureConclusion? later = now.Conclusion<CaptureConclusion>();
        return new RunComparison(
            then.Header.RunId, now.Header.RunId, offset, probe, bed,
            bed is null || later is null ? null : (later.TiltXMm, later.TiltYMm),
            earlier?.Conditions ?? string.Empty,
            later?.Conditions ?? string.Empty,
            [.. missing])
        { ConditionsDiffer = earlier?.TakenUnder is { } was && later?.TakenUnder is { } andIs && !andIs.IsLike(was) };
    }

    private static ComparedNumber? OffsetOf(RunRecord then, RunRecord now, double toleranceMm, List<string> missing)
    {
        if (Both<StepDownConclusion>(then, now, "Z offset: ", missing) is not var (before, after))
        {
            return null;
        }

        double change = after.OffsetMm - before.OffsetMm;
        double half = Coverage * Math.Sqrt((before.StandardUncertaintyMm * before.StandardUncertaintyMm) + (after.StandardUncertaintyMm * after.StandardUncertaintyMm));
        return new ComparedNumber(before.OffsetMm, after.OffsetMm, change, change - half, change + half, Judge(change - half, change + half, -toleranceMm, toleranceMm));
    }

    private static ComparedNumber? ProbeOf(RunRecord then, RunRecord now, List<string> missing)
    {
        if (Both<SeriesConclusion>(then, now, "Probe: ", missing) is not var (before, after))
        {
            return null;
        }

        if (SeriesComparison.Of([.. before.Readings.Select(reading => reading.Z)], [.. after.Readings.Select(reading => reading.Z)]).OrElse(null) is not { } compared)
        {
            missing.Add("Probe: the readings of a series are too few or all equal.");
            return null;
        }

        // Twice the scatter takes four times the touches for the same certainty; less than half is a change too.
        return new ComparedNumber(
            before.SigmaMm, after.SigmaMm, compared.SigmaRatio, compared.RatioLower, compared.RatioUpper,
            compared.RatioLower > 1 || compared.RatioUpper < 1 ? Judge(compared.RatioLower, compared.RatioUpper, 0.5, 2) : Mattering.No);
    }

    private static JudgedDifference? BedOf(RunRecord then, RunRecord now, double toleranceMm, List<string> missing)
    {
        if (EarlierCaptures.Of(then) is not { } before || EarlierCaptures.Of(now) is not { } after)
        {
            missing.Add($"Bed: run {(EarlierCaptures.Of(then) is null ? then : now).Header.RunId} has no sound capture.");
            return null;
        }

        Metrology.Results.Answer<JudgedDifference> compared =
            JudgedDifference.Between(before.Readings, after.Readings, Options(then), Options(now), toleranceMm);
        if (compared.Refusal is { } why)
        {
            missing.Add($"Bed: {why.Message}");
        }

        return compared.OrElse(null);
    }

    private static SurfaceModelOptions Options(RunRecord run)
    {
        double? sigma = run.Conclusion<SeriesConclusion>()?.SigmaMm is { } measured and > 0 ? Math.Max(measured, 0.001) : null;
        try
        {
            BedProfile bed = ProfileReader.Read(TomlFile.Parse(run.Header.ProfileText, run.Header.MachineName)).Bed;
            return new SurfaceModelOptions { Bed = new Box(0, 0, bed.WidthMm, bed.DepthMm), RepeatabilityMm = sigma };
        }
        catch (FileFaultException)
        {
            // A profile of another version: the readings' own box does.
            return new SurfaceModelOptions { RepeatabilityMm = sigma };
        }
    }

    private static (T Then, T Now)? Both<T>(RunRecord then, RunRecord now, string what, List<string> missing)
        where T : StepConclusion
    {
        if (then.Conclusion<T>() is { } before && now.Conclusion<T>() is { } after)
        {
            return (before, after);
        }

        missing.Add($"{what}run {(then.Conclusion<T>() is null ? then : now).Header.RunId} has none.");
        return null;
    }

    private static Mattering Judge(double lower, double upper, double least, double most) =>
        lower >= least && upper <= most ? Mattering.No : lower > most || upper < least ? Mattering.Yes : Mattering.Open;
}
