using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Metrology.Nested;
using ProbeRunner.Metrology.Series;
using ProbeRunner.Metrology.Verdicts;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Repeatability;

/// <summary>
/// Touches one place until the sequential test is certain whether the probe repeats. The readings share one datum: a hold leaves them
/// standing, a resume takes the series again, since homing again would put the homing's own scatter into it.
/// </summary>
internal sealed class SeriesStep(BedPoint? place, int mostReadings, double confidence, SeriesDesign design) : Step
{
    /// <summary>With fewer, not even readings that rise every time would show a drift at p &lt; 0.01 (2 of 6! orders; 2 of 5! is 0.017).</summary>
    private const int FewestReadings = 6;

    public override string Name => "series";

    public override string Title => "Repeatability series";

    public override string Purpose => "A probe that does not repeat makes every later number worthless. The series says so with a stated confidence before anything is built on it.";

    public override string WhatGoodLooksLike => "The readings agree within a few thousandths of a millimetre and the verdict comes after about ten touches.";

    public override Milestones Needs => Milestones.HomedZ;

    public override Milestones Gives => Milestones.Repeatable;

    public override bool IsGate => true;

    public override bool NeedsPerson => design.Mode == SeriesMode.Plate;

    public override StepPlan Plan(MachineProfile profile) => design.Mode == SeriesMode.Plain
        ? new(Touches: Math.Min(10, mostReadings), Questions: 1)
        : new(
            Touches: design.Planned,
            Homings: design.Mode is SeriesMode.Homings or SeriesMode.Nested ? design.Groups : 0,
            Questions: design.Mode == SeriesMode.Plate ? (2 * design.Groups) + 1 : 1);

    public override string? WhyImpossible(MachineProfile profile) => PlaceParameter.WhyOutOfReach(place, profile);

    /// <summary>
    /// Keys: <c>place_mm</c>, the homing place unless said otherwise; <c>most_readings</c>, 5 to 200, 40; <c>confidence</c>, 0.8 to 0.99, 0.95;
    /// and those of <see cref="SeriesDesign.Read"/>.
    /// </summary>
    public static Step Read(TomlSection section) => new SeriesStep(
        PlaceParameter.Read(section), section.Whole("most_readings", 5, 200, 40), section.Number("confidence", 0.8, 0.99, 0.95), SeriesDesign.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        ProbeProfile probe = context.Profile.Probe;
        BedPoint at = place ?? context.Profile.Travel.HomingPlace;
        var test = new SequentialSigmaTest(new SigmaLimits(probe.GoodSigmaMm, probe.BadSigmaMm, confidence, mostReadings));
        await context.HandsClearAsync(PromptIds.SeriesHandsClear, design.Mode == SeriesMode.Plain
            ? "The probe touches one place about ten times. Paper out, hands clear?"
            : FormattableString.Invariant($"The probe touches the bed up to {design.Planned} times, with other motions between. Paper out, hands clear?"));
        if (design.Mode != SeriesMode.Plain)
        {
            return ConcludeGroups(at, await new GroupedTouches(context, design, at).TakeAsync(test), test);
        }

        List<Reading> readings = await context.InSectionAsync("readings", Retake.WhenDatumLost, null, () => TouchAsync(context, at, test));
        Steadiness steadiness = Steadiness.Of(Heights(readings), probe.GoodSigmaMm);
        return Conclude(at, readings, steadiness.Temper(test.Judge(Heights(readings)), Heights(readings), test), steadiness);
    }

    private async Task<List<Reading>> TouchAsync(StepContext context, BedPoint at, SequentialSigmaTest test)
    {
        var readings = new List<Reading>();
        while (readings.Count < mostReadings)
        {
            readings.Add(await context.DoAsync(new TouchAt(at, readings.Count + 1)));
            SeriesVerdict soFar = test.Judge(Heights(readings));
            SeriesSoFar shown = SoFar(readings, soFar, test.Limits);
            context.Show(when => new SeriesJudged(when, Name, shown));
            if (readings.Count >= FewestReadings && soFar.State != VerdictState.Undecided)
            {
                break;
            }

            context.StillToCome(shown.StillNeeded);
        }

        return readings;
    }

    private SeriesSoFar SoFar(List<Reading> readings, SeriesVerdict verdict, SigmaLimits limits) => new(
        InWord(verdict, readings.Count),
        Math.Min(Math.Max(verdict.ReadingsStillNeeded, FewestReadings - readings.Count), mostReadings - readings.Count),
        SeriesSummary.Of(Heights(readings)).OrElse(null)?.StandardDeviation ?? 0,
        verdict.Sigma?.Lower ?? 0,
        verdict.Sigma?.Upper ?? 0,
        limits.GoodSigma,
        limits.BadSigma);

    /// <summary>As long as fewer readings than the fewest were taken, nothing counts as decided.</summary>
    private static StepVerdict InWord(SeriesVerdict verdict, int count) => new(
        (verdict.State, count >= FewestReadings) switch
        {
            (VerdictState.Fit, true) => VerdictWord.Fit,
            (VerdictState.NotFit, true) => VerdictWord.NotFit,
            _ => VerdictWord.Undecided,
        },
        verdict.Confidence,
        verdict.Reason);

    private SeriesConclusion Conclude(BedPoint at, List<Reading> readings, SeriesVerdict verdict, Steadiness steadiness)
    {
        SeriesSummary summary = SeriesSummary.Of(Heights(readings)).Value;
        StepVerdict judged = new(
            verdict.State switch { VerdictState.Fit => VerdictWord.Fit, VerdictState.NotFit => VerdictWord.NotFit, _ => VerdictWord.Undecided },
            verdict.Confidence,
            verdict.Reason);
        return new SeriesConclusion(
            judged,
            [
                .. steadiness.Trouble is { } trouble ? [UnsteadyFinding(trouble)] : Array.Empty<Finding>(),
                .. verdict.State == VerdictState.Fit || (verdict.State == VerdictState.Undecided && steadiness.Trouble is not null) ? [] : new[] { FindingOf(summary, verdict) },
            ],
            at,
            [.. readings],
            summary.Mean,
            summary.StandardDeviation,
            verdict.Sigma?.Lower ?? 0,
            verdict.Sigma?.Upper ?? 0,
            verdict.Sigma?.Confidence ?? confidence);
    }

    /// <summary>Where the scatter comes from; the sigma that later steps go by is that of the touches alone.</summary>
    private SeriesConclusion ConcludeGroups(BedPoint at, List<LabelledTouch> touches, SequentialSigmaTest test)
    {
        List<Reading> readings = [.. touches.Select(touch => touch.Reading)];
        NestedAnalysis analysis = NestedAnalysis.Of([.. touches.Select(touch => touch.Nested)], design.Levels).OrElse(null)
            ?? throw new StepFailedException("The readings of this series can't be told apart by their groups. Take it again with more groups or touches.");
        ImmutableArray<ScatterPart> parts = ScatterSources.Parts(analysis);
        Steadiness steadiness = design.Mode == SeriesMode.Places ? new Steadiness(null) : Steadiness.Of(Heights(readings), test.Limits.GoodSigma);
        StepVerdict verdict = ScatterSources.Judge(parts, test.Limits);
        if (steadiness.Trouble is { } moved && verdict.State == VerdictWord.Fit)
        {
            verdict = Verdicts.Undecided($"{moved.Text} While something moves, scatter can't be judged: let the machine settle, then take the series again.");
        }

        return new SeriesConclusion(
            verdict,
            [.. steadiness.Trouble is { } trouble ? [UnsteadyFinding(trouble)] : Array.Empty<Finding>(), ScatterSources.Largest(parts)],
            at,
            [.. readings],
            analysis.Mean,
            parts[^1].SigmaMm,
            parts[^1].LowerMm,
            parts[^1].UpperMm,
            analysis.Confidence,
            design.Word,
            parts);
    }

    private static Finding UnsteadyFinding(SeriesDefect trouble) => new(
        "series.not-steady",
        trouble.Kind == SeriesDefectKind.Drift ? "The height drifts while it is measured." : "The first touches differ from the rest.",
        Math.Abs(trouble.Size),
        "probe or bed",
        1 - trouble.PValue,
        trouble.Text,
        "Let the machine warm up or settle longer; check that nothing creeps (a loose bracket, a plate not seated); then take the series again.");

    private static Finding FindingOf(SeriesSummary summary, SeriesVerdict verdict) => new(
        verdict.State == VerdictState.NotFit ? "series.does-not-repeat" : "series.undecided",
        verdict.State == VerdictState.NotFit ? "The probe does not repeat well enough to calibrate with." : "The readings leave it open whether the probe repeats well enough.",
        summary.StandardDeviation,
        "probe",
        verdict.Confidence,
        FormattableString.Invariant($"{summary.Count} readings at one place scatter by {summary.StandardDeviation:0.0000} mm (range {summary.Range:0.000} mm)."),
        verdict.State == VerdictState.NotFit
            ? "Tighten the probe and its bracket, check the carriage for play and the wiring for noise, slow the touch; then run the series again. Nothing was stored."
            : "Run the series again with more readings allowed (most_readings), at a quiet time and with the machine settled.");

    private static List<double> Heights(List<Reading> readings) => [.. readings.Select(reading => reading.Z)];
}
