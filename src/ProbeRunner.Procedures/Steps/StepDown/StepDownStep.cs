using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.StepDown;

/// <summary>
/// The paper-drag test: touches, then lowers the nozzle until paper drags, in takes whose start can't be predicted; writes the offset
/// and homes again. Each take holds its own touches, so that drag and touch share one datum whatever interrupted the run between takes.
/// </summary>
internal sealed class StepDownStep(StepDownParameters parameters) : Step
{
    private const double FirstStartAboveContactMm = 0.65;
    private const double LaterStartAboveDragMm = 0.12;
    private const int MostSpoiltTakes = 2;
    private const double LargestUncertaintyMm = 0.03;
    private const double HomedAgainToleranceMm = 0.1;

    private static readonly PaperApproachPrompts Around = new(
        PromptIds.StepDownTouchHandsClear, PromptIds.StepDownApproachHandsClear, PromptIds.StepDownPaperIn, PromptIds.StepDownLiftHandsClear);

    public override string Name => "step-down";

    public override string Title => "Z offset by paper";

    public override string Purpose => "The probe triggers some way above the point where the nozzle would touch. How far, only the nozzle itself can say, with a paper between it and the bed.";

    public override string WhatGoodLooksLike => "Two takes agree within about a hundredth of a millimetre.";

    public override Milestones Needs => Milestones.HomedZ | Milestones.ProbeTested | Milestones.Repeatable;

    public override Milestones Gives => Milestones.OffsetKnown;

    public override bool NeedsPerson => true;

    public override bool IsGate => true;

    public override StepPlan Plan(MachineProfile profile) => new(
        Touches: (parameters.Takes * parameters.Touches) + 1, Homings: parameters.Takes, Motions: parameters.Takes * 90, Questions: parameters.Takes * 30);

    public override string? WhyImpossible(MachineProfile profile) => PlaceParameter.WhyOutOfReach(parameters.Place, profile);

    public static Step Read(TomlSection section) => new StepDownStep(StepDownParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        BedPoint place = parameters.Place ?? context.Profile.Travel.HomingPlace;
        ProbeOffset before = await context.DoAsync(new ReadProbeOffset());
        Temperatures heat = await context.DoAsync(new ReadTemperatures());
        await MakeRoomAsync(context, before);
        var takes = new List<OffsetTake>();
        for (int number = 1; takes.Count < parameters.Takes && number <= parameters.Takes + MostSpoiltTakes; number++)
        {
            int attempt = number;
            OffsetTake? last = takes.LastOrDefault();
            OffsetTake take = await context.InSectionAsync($"take {attempt}", Retake.WhenInterrupted, null, () => TakeAsync(context, place, attempt, last));
            if (take.Result is { FalseContact: true } && number < parameters.Takes + MostSpoiltTakes)
            {
                context.Remark(FormattableString.Invariant($"Take {number} is taken again: the paper was felt once where it then kept free."));
                continue;
            }

            takes.Add(take);
            if (take.Result.Drag is null)
            {
                return Conclude(place, takes, null, heat, NoDrag(take));
            }

            context.Remark(FormattableString.Invariant($"Take {number}: the nozzle reaches the bed {-(take.DragOverTouchMm - parameters.PaperMm):0.000} mm below the trigger."));
        }

        OffsetEstimate estimate = OffsetEstimate.Of(takes, parameters, context.Profile.Travel.ZStepMm);
        if (Doubt(estimate) is { } doubt)
        {
            return Conclude(place, takes, estimate, heat, doubt);
        }

        Finding? wrong = await WriteAsync(context, place, before, estimate);
        return Conclude(place, takes, estimate, heat, wrong);
    }

    /// <summary>
    /// An offset that is far wrong (a wrong sign, say) puts the bed below the machine's lowest height. Then a first guess is written live;
    /// like everything live it is put back unless the run stores its result.
    /// </summary>
    private static async Task MakeRoomAsync(StepContext context, ProbeOffset before)
    {
        double expectedContact = -before.Z - context.Profile.Probe.TriggerToNozzleMm;
        if (!context.Profile.Travel.HomesWithProbe || expectedContact - GuardLimits.FloorMarginMm >= context.Profile.Travel.LowestZ)
        {
            return;
        }

        ProbeOffset guess = before with { Z = -context.Profile.Probe.TriggerToNozzleMm };
        context.Warn(FormattableString.Invariant($"The controller's Z offset of {before.Z:0.000} mm would put the bed below the machine's lowest height. For this test it is set to {guess.Z:0.000} mm, the distance entered in the profile; it is put back unless the result is stored."));
        await context.InSectionAsync("first guess", Retake.WhenInterrupted, null, () => context.DoAsync(new WriteProbeOffset(guess)));
    }

    private async Task<OffsetTake> TakeAsync(StepContext context, BedPoint place, int number, OffsetTake? last)
    {
        var approach = new PaperApproach(context, place, Around);
        SeededChance chance = context.Chance($"take {number}", "start");

        // A new epoch, so that a contact felt wrongly before does not keep the guard from this take's bed.
        await context.HandsClearAsync(PromptIds.StepDownHomeHandsClear, FormattableString.Invariant($"Z is homed for take {number}. Paper out, hands clear?"));
        await context.DoAsync(new HomeAxes(Axes.Z));
        PaperGround ground = await approach.TouchAsync(parameters.Touches);
        PaperOpening opening = await approach.OpenAsync(ground);
        double start = last is null
            ? ground.ContactMm + FirstStartAboveContactMm + chance.Between(0, 0.2)
            : ground.MeanMm + last.DragOverTouchMm + LaterStartAboveDragMm + chance.Between(0, 0.25);
        PaperTakeResult result = await approach.TakeAsync(ground, opening, new PaperTakePlan(
            number, PromptIds.StepDownPaper, start, last is null ? 0.1 : 0.05, opening.LowestMm, parameters.HalfWidthMm, parameters.MostAnswers));
        await approach.CloseAsync(opening);
        return new OffsetTake(ground, result);
    }

    /// <returns>What came out wrong after homing with the new offset; null when all agreed.</returns>
    private static async Task<Finding?> WriteAsync(StepContext context, BedPoint place, ProbeOffset before, OffsetEstimate estimate)
    {
        var wanted = before with { Z = Math.Round(estimate.OffsetMm, 3) };
        (ProbeOffset written, Reading again) = await context.InSectionAsync("write and home", Retake.WhenInterrupted, null, async () =>
        {
            ProbeOffset readBack = await context.DoAsync(new WriteProbeOffset(wanted));
            await context.HandsClearAsync(PromptIds.StepDownHomeHandsClear, "Z is homed with the new offset, and the place is touched once. Paper out, hands clear?");
            await context.DoAsync(new HomeAxes(Axes.Z));
            return (readBack, await context.DoAsync(new TouchAt(place, 1)));
        });
        context.NoteChange(
            "probe offset Z",
            FormattableString.Invariant($"{before.Z:0.000} mm"),
            FormattableString.Invariant($"{written.Z:0.000} mm"));
        bool atHome = place.DistanceTo(context.Profile.Travel.HomingPlace) < 1;
        return !atHome || Math.Abs(again.Z + written.Z) <= HomedAgainToleranceMm
            ? null
            : new Finding(
                "step-down.homed-elsewhere",
                "After homing with the new offset the probe does not trigger where it should.",
                Math.Abs(again.Z + written.Z),
                "homing place",
                1,
                FormattableString.Invariant($"Offset {written.Z:0.000} mm, so the trigger belongs at {-written.Z:0.000} mm; it came at {again.Z:0.000} mm."),
                "The controller may count its offset the other way round. Do not print; check the dialect's touch report and the sign of the offset.");
    }

    private static Finding? Doubt(OffsetEstimate estimate)
    {
        string takes = string.Join(", ", estimate.TakeOffsetsMm.Select(offset => FormattableString.Invariant($"{offset:0.000}")));
        if (!estimate.Agree)
        {
            return new Finding(
                "step-down.takes-disagree", "The takes do not agree, so no offset was written.", estimate.TakeOffsetsMm.Max() - estimate.TakeOffsetsMm.Min(), "nozzle", 0.95,
                $"Offsets of the takes: {takes} mm.", "Clean the nozzle tip, use a flat fresh paper, and judge by the first slight drag; then run the step again.");
        }

        return estimate.StandardUncertaintyMm <= LargestUncertaintyMm
            ? null
            : new Finding(
                "step-down.too-uncertain", "The offset is too uncertain to be written.", estimate.StandardUncertaintyMm, "nozzle", 0.95,
                FormattableString.Invariant($"Standard uncertainty {estimate.StandardUncertaintyMm:0.000} mm after {takes}."), "Run the step again and take your time over each answer.");
    }

    private static Finding NoDrag(OffsetTake take) => take.Result.CalledOff
        ? new Finding("step-down.called-off", "The paper test was called off; no offset was written.", null, "nozzle", 1, "Called off by the person.", "Run the step again when ready.")
        : new Finding(
            "step-down.never-dragged", "The paper never dragged down to the lowest height allowed.", null, "nozzle", 1,
            FormattableString.Invariant($"Free in {take.Result.Answers.Length} answers, down to {take.Result.Answers[^1].HeightMm:0.000} mm."),
            "Measure again how far the probe triggers above the nozzle's touch, correct trigger_to_nozzle_mm in the profile, then run the step again.");

    private StepDownConclusion Conclude(BedPoint place, List<OffsetTake> takes, OffsetEstimate? estimate, Temperatures heat, Finding? wrong)
    {
        StepVerdict verdict = wrong is null
            ? Verdicts.Fit(FormattableString.Invariant($"Offset {estimate!.OffsetMm:0.000} mm, standard uncertainty {estimate.StandardUncertaintyMm:0.000} mm from {takes.Count} takes."), 0.95)
            : wrong.Id is "step-down.homed-elsewhere" ? Verdicts.NotFit(wrong.Title) : Verdicts.Undecided(wrong.Title);
        double touch = takes.Average(take => take.Ground.MeanMm);
        return new StepDownConclusion(
            verdict,
            wrong is null ? [] : [wrong],
            place,
            [.. takes.SelectMany(take => take.Result.Answers)],
            touch,
            estimate is null ? touch : touch + estimate.OffsetMm + parameters.PaperMm,
            parameters.PaperMm,
            estimate?.OffsetMm ?? 0,
            estimate?.StandardUncertaintyMm ?? 0,
            estimate?.Contributions ?? [],
            estimate?.TakeOffsetsMm ?? [],
            Provisional: true, // no step heats and soaks the bed before this one: even a hot bed need not have settled
            Conditions.Of(heat));
    }
}
