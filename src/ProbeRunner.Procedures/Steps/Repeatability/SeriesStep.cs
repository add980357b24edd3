using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Metrology.Series;
using ProbeRunner.Metrology.Verdicts;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Repeatability;

/// <summary>
/// Touches one place until the sequential test is certain whether the probe repeats. The readings share one datum: a hold leaves them
/// standing, a resume takes the series again, since homing again would put the homing's own scatter into it.
/// </summary>
internal sealed class SeriesStep(BedPoint? place, int mostReadings, double confidence) : Step
{
    public override string Name => "series";

    public override string Title => "Repeatability series";

    public override string Purpose => "A probe that does not repeat makes every later number worthless. The series says so with a stated confidence before anything is built on it.";

    public override string WhatGoodLooksLike => "The readings agree within a few thousandths of a millimetre and the verdict comes after about ten touches.";

    public override Milestones Needs => Milestones.HomedZ;

    public override Milestones Gives => Milestones.Repeatable;

    public override bool IsGate => true;

    public override StepPlan Plan(MachineProfile profile) => new(Touches: Math.Min(10, mostReadings), Questions: 1);

    public override string? WhyImpossible(MachineProfile profile) => PlaceParameter.WhyOutOfReach(place, profile);

    /// <summary>
    /// Keys: <c>place_mm</c>, the homing place unless said otherwise; <c>most_readings</c>, 5 to 200, 40; <c>confidence</c>, 0.8 to 0.99, 0.95.
    /// </summary>
    public static Step Read(TomlSection section) => new SeriesStep(
        PlaceParameter.Read(section), section.Whole("most_readings", 5, 200, 40), section.Number("confidence", 0.8, 0.99, 0.95));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        ProbeProfile probe = context.Profile.Probe;
        BedPoint at = place ?? context.Profile.Travel.HomingPlace;
        var test = new SequentialSigmaTest(new SigmaLimits(probe.GoodSigmaMm, probe.BadSigmaMm, confidence, mostReadings));
        await context.HandsClearAsync(PromptIds.SeriesHandsClear, "The probe touches one place about ten times. Paper out, hands clear?");
        List<Reading> readings = await context.InSectionAsync("readings", Retake.WhenDatumLost, null, () => TouchAsync(context, at, test));
        return Conclude(at, readings, test.Judge(Heights(readings)));
    }

    private async Task<List<Reading>> TouchAsync(StepContext context, BedPoint at, SequentialSigmaTest test)
    {
        var readings = new List<Reading>();
        while (readings.Count < mostReadings)
        {
            readings.Add(await context.DoAsync(new TouchAt(at, readings.Count + 1)));
            if (test.Judge(Heights(readings)).State != VerdictState.Undecided)
            {
                break;
            }
        }

        return readings;
    }

    private SeriesConclusion Conclude(BedPoint at, List<Reading> readings, SeriesVerdict verdict)
    {
        SeriesSummary summary = SeriesSummary.Of(Heights(readings)).Value;
        StepVerdict judged = new(
            verdict.State switch { VerdictState.Fit => VerdictWord.Fit, VerdictState.NotFit => VerdictWord.NotFit, _ => VerdictWord.Undecided },
            verdict.Confidence,
            verdict.Reason);
        return new SeriesConclusion(
            judged,
            verdict.State == VerdictState.Fit ? [] : [FindingOf(summary, verdict)],
            at,
            [.. readings],
            summary.Mean,
            summary.StandardDeviation,
            verdict.Sigma?.Lower ?? 0,
            verdict.Sigma?.Upper ?? 0,
            verdict.Sigma?.Confidence ?? confidence);
    }

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
