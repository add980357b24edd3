using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.NextPlace;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>
/// Touches where the map knows least, until it is as good as was wanted or the budget of touches or minutes is spent. Says after every batch how
/// good the map already is and what could still hide between the touches.
/// </summary>
internal sealed class GuidedCaptureStep(GuidedParameters parameters) : Step
{
    /// <summary>Touches that a usual bed takes to 0.02 mm; only for the time estimate.</summary>
    private const int UsualTouches = 30;

    public override string Name => "guided-capture";

    public override string Title => "Guided capture";

    public override string Purpose => "A grid wastes touches where the bed is plain. This goes where the map is least sure, and stops when the map is as good as you asked for.";

    public override string WhatGoodLooksLike => "The expected error falls from batch to batch, and the last touches read what the map foretold.";

    public override bool DependsOnPlate => true;

    public override Milestones Needs => Milestones.HomedZ;

    public override Milestones Wants => Milestones.GantryLevel;

    public override Milestones Gives => Milestones.Captured;

    public override bool Heats => parameters.Rule.Heat.IsOn;

    public override StepPlan Plan(MachineProfile profile) => new(Touches: Math.Min(UsualTouches, parameters.MostTouches) * parameters.Rule.Touches, Questions: 1);

    public override string? WhyImpossible(MachineProfile profile) =>
        AdaptiveCapture.Start(OptionsFor(profile, ReachableArea.ForProbe(profile), null)).Refusal is { } why
            ? $"places can't be chosen on this machine; check area_mm, the probe's offset and the clips in the profile. {why.Message}"
            : parameters.Rule.Heat.WhyImpossible(profile);

    /// <summary>Keys: those of <see cref="GuidedParameters.Read"/>.</summary>
    public static Step Read(TomlSection section) => new GuidedCaptureStep(GuidedParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        string plate = await context.PlateAsync();
        ProbeOffset offset = await context.DoAsync(new ReadProbeOffset());
        Temperatures found = await context.DoAsync(new ReadTemperatures());
        AdaptiveCaptureOptions options = OptionsFor(
            context.Profile, ReachableArea.ForProbe(context.Profile, offset), CaptureJudgement.TouchSigma(context, new CaptureTally(parameters.Rule)) ?? parameters.KnownSigmaMm);
        await context.HandsClearAsync(
            PromptIds.CaptureHandsClear,
            FormattableString.Invariant($"{parameters.Rule.Heat.Caution(context.Profile.Heat)}The probe touches up to {parameters.MostTouches} places all over the bed, where the map needs them most. Paper out, hands clear, and nothing on the bed?"));
        (Temperatures heat, TimeSpan soaked) = await parameters.Rule.Heat.ReachAsync(context, found);
        context.Remark(FormattableString.Invariant(
            $"A usual bed takes about {UsualTouches} touches, {CaptureWords.Duration(context.Expect(Plan(context.Profile)))}; at most {parameters.MostTouches} touches or {parameters.MostMinutes:0} minutes."));
        double? feed = await CaptureFeed.AsFoundAsync(context, parameters.Rule);
        (AdaptiveCapture capture, CaptureTally tally) = await context.InSectionAsync(
            "places", Retake.Continue, null, () => CaptureFeed.KeptAsync(context, parameters.Rule, feed, () => CaptureAsync(context, options, found)));
        return CaptureJudgement.Conclude(context, new CapturedArea(AreaFor(context.Profile), 0, 0, 0), tally, new CaptureConditions(heat, soaked, plate), GoalOf(capture), parameters.KnownSigmaMm);
    }

    private async Task<(AdaptiveCapture Capture, CaptureTally Tally)> CaptureAsync(StepContext context, AdaptiveCaptureOptions options, Temperatures found)
    {
        AdaptiveCapture capture = AdaptiveCapture.Start(options).Value;
        var pass = new CapturePass(context, parameters.Rule, context.Profile.Travel.HomingPlace);
        while (!capture.Next.IsEmpty && !IsTimeUp(pass.Tally))
        {
            int before = pass.Tally.Counting.Count;
            foreach (Place place in capture.Next)
            {
                await pass.TouchPlaceAsync(new BedPoint(Math.Round(place.X, 3), Math.Round(place.Y, 3)));
            }

            DateTimeOffset first = pass.Tally.Counting[0].At;
            Answer<AdaptiveCapture> next = capture.With([.. pass.Tally.Counting.Skip(before).Select(reading => CapturedSurface.ForModel(reading, first))]);
            capture = next.Refusal is { } why ? throw new StepFailedException($"A reading can't be used: {why.Message}") : next.Value;
            context.Remark(Progress(capture, pass.Tally));
        }

        await pass.EndAsync();
        await parameters.Rule.Heat.LeaveAsync(context, found);
        return (capture, pass.Tally);
    }

    private bool IsTimeUp(CaptureTally tally) =>
        tally.Counting.Count > 0 && (tally.Counting[^1].At - tally.Counting[0].At).TotalMinutes >= parameters.MostMinutes;

    private string Progress(AdaptiveCapture capture, CaptureTally tally)
    {
        if (capture.Posterior is null)
        {
            return FormattableString.Invariant($"{tally.Touches} touches; no map yet.");
        }

        string found = double.IsFinite(capture.FoundRmsMm) ? FormattableString.Invariant($", and the last touches were off it by {capture.FoundRmsMm:0.000} mm") : string.Empty;
        string hidden = Missed(capture) is { } bump && double.IsFinite(bump.HeightMm)
            ? FormattableString.Invariant($" A bump {bump.WidthMm:0} mm wide and lower than {bump.HeightMm:0.00} mm could still hide at x {bump.X:0}, y {bump.Y:0}.")
            : FormattableString.Invariant($" A bump {parameters.BumpWidthMm:0} mm wide could still hide, of whatever height.");
        return FormattableString.Invariant($"{tally.Touches} touches: the map is expected to be sure to {capture.ExpectedRmsMm:0.000} mm rms (wanted {parameters.TargetRmsMm:0.000}){found}.{hidden}");
    }

    private CaptureGoal GoalOf(AdaptiveCapture capture)
    {
        MissedBump? bump = Missed(capture);
        return new CaptureGoal(
            parameters.TargetRmsMm,
            capture.State == CaptureState.Reached,
            double.IsFinite(capture.FoundRmsMm) ? capture.FoundRmsMm : null,
            bump?.WidthMm,
            bump is { } hidden && double.IsFinite(hidden.HeightMm) ? hidden.HeightMm : null);
    }

    private MissedBump? Missed(AdaptiveCapture capture) =>
        capture.Posterior is { } posterior && MissedBump.Largest(posterior, capture.Options.Printable, parameters.BumpWidthMm) is Known<MissedBump> known ? known.Content : null;

    private AdaptiveCaptureOptions OptionsFor(MachineProfile profile, ReachableArea reach, double? touchSigma) => new()
    {
        Printable = BoxOf(AreaFor(profile)),
        Reachable = BoxOf(parameters.Area is { } wanted ? reach.Bounds.Intersect(wanted) : reach.Bounds),
        Forbidden = [.. reach.Excluded.Select(BoxOf)],
        TargetRmsMm = parameters.TargetRmsMm,
        MostTouches = parameters.MostTouches,
        BatchSize = parameters.Batch,
        Model = new SurfaceModelOptions { Bed = CaptureJudgement.Plate(profile), RepeatabilityMm = touchSigma / Math.Sqrt(parameters.Rule.Touches) },
    };

    private BedRectangle AreaFor(MachineProfile profile) => parameters.Area is { } wanted ? profile.Bed.Printable.Intersect(wanted) : profile.Bed.Printable;

    private static Box BoxOf(BedRectangle rectangle) => new(rectangle.MinX, rectangle.MinY, rectangle.MaxX, rectangle.MaxY);
}
