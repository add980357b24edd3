using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Metrology.Thresholds;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;
using ProbeRunner.Procedures.Steps.Heating;

namespace ProbeRunner.Procedures.Steps.StepDown;

/// <summary>
/// The paper-drag test: heats and soaks as the machine prints, has the tip wiped, touches, then lowers the nozzle until paper drags, in takes
/// whose start can't be predicted; writes the offset and homes again. Each take homes and holds its own touches, so that drag and touch share
/// one datum whatever interrupted the run between takes. The heaters stay on for the steps that follow; the run's end switches them off.
/// </summary>
internal sealed class StepDownStep(StepDownParameters parameters) : Step
{
    private const double FirstStartAboveContactMm = 0.65;
    private const double LaterStartAboveDragMm = 0.12;
    private const int MostSpoiltTakes = 2;
    private const double HomedAgainToleranceMm = 0.1;

    private static readonly PaperApproachPrompts Around = new(
        PromptIds.StepDownTouchHandsClear, PromptIds.StepDownApproachHandsClear, PromptIds.StepDownPaperIn, PromptIds.StepDownLiftHandsClear, PromptIds.StepDownPinUp);

    public override string Name => "step-down";

    public override string Title => "Z offset by paper";

    public override string Purpose => "The probe triggers some way above the point where the nozzle would touch. How far, only the nozzle itself can say, with a paper between it and the bed.";

    public override string WhatGoodLooksLike => "Two takes agree within about a hundredth of a millimetre.";

    public override bool DependsOnPlate => true;

    public override Milestones Needs => Milestones.HomedZ | Milestones.ProbeTested | Milestones.Repeatable;

    public override Milestones Gives => Milestones.OffsetKnown;

    public override bool NeedsPerson => true;

    public override bool Heats => !parameters.Cold;

    public override bool IsGate => true;

    public override StepPlan Plan(MachineProfile profile) => new(
        Touches: (parameters.Takes * parameters.Touches) + 1, Homings: parameters.Takes + 1, Motions: parameters.Takes * 90, Questions: parameters.Takes * 30);

    public override string? WhyImpossible(MachineProfile profile) => PlaceParameter.WhyOutOfReach(parameters.Place, profile);

    public static Step Read(TomlSection section) => new StepDownStep(StepDownParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        BedPoint place = parameters.Place ?? context.Profile.Travel.HomingPlace;
        string plate = await context.PlateAsync();
        Gauge gauge = await Gauge.OfAsync(context, parameters);
        ProbeOffset before = await context.DoAsync(new ReadProbeOffset());
        Temperatures heat = await ReadyAsync(context);
        await MakeRoomAsync(context, before);
        var takes = new List<OffsetTake>();
        for (int number = 1; takes.Count < parameters.Takes && number <= parameters.Takes + MostSpoiltTakes; number++)
        {
            int attempt = number;
            OffsetTake? last = takes.LastOrDefault();
            OffsetTake take = await context.InSectionAsync($"take {attempt}", Retake.WhenInterrupted, null, () => TakeAsync(context, place, attempt, last, gauge));
            if (take.Result is { FalseContact: true } && number < parameters.Takes + MostSpoiltTakes)
            {
                context.Remark(FormattableString.Invariant($"Take {number} is taken again: the paper was felt once where it then kept free."));
                continue;
            }

            takes.Add(take);
            if (take.Heights is not { } heights)
            {
                return Conclude(context, place, takes, gauge, null, heat, StepDownFindings.NoDrag(take), plate);
            }

            context.Remark(FormattableString.Invariant($"Take {number}: the paper drags {-heights.DragOverTouchMm:0.000} mm below the trigger."));
        }

        PaperOffset offset = PaperOffset.Of(
            [.. takes.Select(take => take.Heights!)], TakenOff(gauge), IsTouching ? gauge.StandardUncertaintyMm : 0, context.Profile.Travel.ZStepMm).Value;
        Finding? wrong = StepDownFindings.Doubt(offset) ?? await WriteAsync(context, place, before, offset);
        return Conclude(context, place, takes, gauge, offset, heat, wrong, plate);
    }

    private bool IsTouching => parameters.ZeroMeans == ZeroMeaning.Touching;

    private double TakenOff(Gauge gauge) => IsTouching ? gauge.ThicknessMm : 0;

    /// <summary>Heats and soaks unless the test is to be cold, then has the tip wiped.</summary>
    private async Task<Temperatures> ReadyAsync(StepContext context)
    {
        Temperatures heat;
        if (parameters.HeatFor(context.Profile.Heat) is { } plan)
        {
            await context.AskAsync(Prompts.Acknowledge(
                PromptIds.StepDownCautions,
                FormattableString.Invariant($"The bed heats to {plan.BedCelsius:0} degC, as it is for printing, and the nozzle to {plan.NozzleCelsius:0} degC, where it does not ooze. They stay hot until the run ends. Stay with the machine, touch neither, and know where its mains switch is."),
                "A hot bed has another shape and height than a cold one: an offset taken cold is only a first guess. Nozzle and bed burn, long after they are switched off too."));
            await context.HandsClearAsync(
                PromptIds.StepDownHeatHandsClear,
                FormattableString.Invariant($"The machine heats, then the bed soaks until it has been hot for {plan.Soak.TotalMinutes:0} minutes; the head moves by a millimetre now and then. Stay with the machine. Paper out, hands clear?"));
            heat = await context.InSectionAsync("heat", Retake.WhenInterrupted, null, () => HotBed.ReachAsync(context, plan));
        }
        else
        {
            heat = await context.DoAsync(new ReadTemperatures());
        }

        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.StepDownWipe,
            FormattableString.Invariant($"Wipe the nozzle's tip now with a brass brush or a folded dry cloth, not with your fingers: it is {(heat.NozzleCelsius > 45 ? "hot" : "cold")}, {heat.NozzleCelsius:0} degC. Nothing moves until you go on. Look that no thread or drop hangs from it; then take your hands away. Next Z is homed."),
            "A drop under the nozzle is felt as if it were the nozzle, and the offset would be wrong by its size."));
        return heat;
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

    private async Task<OffsetTake> TakeAsync(StepContext context, BedPoint place, int number, OffsetTake? last, Gauge gauge)
    {
        var approach = new PaperApproach(context, place, Around);
        SeededChance chance = context.Chance($"take {number}", "start");

        // A new epoch, so that a contact felt wrongly before does not keep the guard from this take's bed.
        await context.HandsClearAsync(PromptIds.StepDownHomeHandsClear, FormattableString.Invariant($"Take {number}: the nozzle comes down until the probe touches the bed, so that the machine knows its height anew. Watch that only the probe touches. Paper out, hands clear?"));
        await context.DoAsync(new HomeAxes(Axes.Z));
        if (parameters.HeatFor(context.Profile.Heat) is { } plan)
        {
            await HotBed.ReachAsync(context, plan); // nothing to do, unless an interruption let it cool
        }

        PaperGround ground = await approach.TouchAsync(parameters.Touches);
        PaperOpening opening = await approach.OpenAsync(ground);
        double start = last?.Heights is { } known
            ? ground.MeanMm + known.DragOverTouchMm + LaterStartAboveDragMm + chance.Between(0, 0.25)
            : ground.ContactMm + FirstStartAboveContactMm + chance.Between(0, 0.2);
        PaperTakeResult result = await approach.TakeAsync(ground, opening, new PaperTakePlan(
            number, PromptIds.StepDownPaper, start, last is null ? 0.1 : 0.05, opening.LowestMm, parameters.HalfWidthMm, parameters.MostAnswers, gauge.Word,
            SlowBelowMm: ground.ContactMm + PaperTakePlan.SlowAboveEnteredContactMm));
        await approach.CloseAsync(opening);
        return new OffsetTake(ground, result);
    }

    /// <returns>What came out wrong after homing with the new offset; null when all agreed.</returns>
    private static async Task<Finding?> WriteAsync(StepContext context, BedPoint place, ProbeOffset before, PaperOffset offset)
    {
        var wanted = before with { Z = Math.Round(offset.OffsetMm, 3) };
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
        return !atHome || Math.Abs(again.Z + written.Z) <= HomedAgainToleranceMm ? null : StepDownFindings.HomedElsewhere(written.Z, again.Z);
    }

    private StepDownConclusion Conclude(
        StepContext context, BedPoint place, List<OffsetTake> takes, Gauge gauge, PaperOffset? offset, Temperatures heat, Finding? wrong, string plate)
    {
        StepVerdict verdict = wrong is null
            ? Verdicts.Fit(FormattableString.Invariant($"Offset {offset!.OffsetMm:0.000} mm, standard uncertainty {offset.StandardUncertaintyMm:0.000} mm from {takes.Count} takes."), 0.95)
            : wrong.Id is StepDownFindings.HomedElsewhereId ? Verdicts.NotFit(wrong.Title) : Verdicts.Undecided(wrong.Title);
        double touch = takes.Average(take => take.Ground.MeanMm);
        HeatPlan? plan = parameters.HeatFor(context.Profile.Heat);
        bool asPrinted = plan is not null && plan.Soak >= context.Profile.Heat.Soak;
        string soaked = plan is null ? string.Empty : FormattableString.Invariant($", bed hot for {plan.Soak.TotalMinutes:0} minutes or more");
        return new StepDownConclusion(
            verdict,
            wrong is null ? [] : [wrong],
            place,
            [.. takes.SelectMany(take => take.Result.Answers)],
            touch,
            offset is null ? touch : touch + offset.OffsetMm + TakenOff(gauge),
            TakenOff(gauge),
            offset?.OffsetMm ?? 0,
            offset?.StandardUncertaintyMm ?? 0,
            [.. (offset?.Budget.Shares ?? []).Select(share => new BudgetLine(share.Name, share.Uncertainty, share.Share))],
            [.. offset?.TakeOffsetsMm ?? []],
            Provisional: !asPrinted,
            Conditions.Of(heat, plate: plate) + soaked,
            parameters.ZeroMeans,
            gauge.Described,
            OffsetTake.Person(takes))
        { TakenUnder = new TakenUnder(heat.BedCelsius, heat.NozzleCelsius, heat.BedTargetCelsius, plate) { SoakMinutes = plan?.Soak.TotalMinutes ?? 0 } };
    }
}
