using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.Thresholds;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;
using ProbeRunner.Procedures.Steps.StepDown;

namespace ProbeRunner.Procedures.Steps.Verification;

/// <summary>
/// Proves the offset in force after a new homing: by a touch, at 5 mm, at 1 mm, and by paper. A wrong sign or a doubled offset is
/// found high above the bed and not in it.
/// </summary>
internal sealed class VerifyStep(double toleranceMm, double? paperMm, string zeroMeans) : Step
{
    private const string PaperElsewhere = "verify.paper-elsewhere";
    private const string GapWrongId = "verify.gap-wrong";
    private const double FarMm = 5;
    private const double NearMm = 1;
    private const double TriggerToleranceMm = 0.15;
    private const double UsualHomingSigmaMm = 0.01;

    private static readonly PaperApproachPrompts Around = new(
        PromptIds.VerifyHomeHandsClear, PromptIds.VerifyApproachHandsClear, PromptIds.VerifyPaperIn, PromptIds.VerifyLiftHandsClear, PromptIds.VerifyPinUp);

    public override string Name => "verify";

    public override string Title => "Offset proven at the bed";

    public override string Purpose => "A number that was written is not yet a nozzle at the right height. After a new homing the gap is looked at from far to near.";

    public override string WhatGoodLooksLike => "A gap of 5 mm, then of 1 mm, then paper that begins to drag at its own thickness.";

    public override bool DependsOnPlate => true;

    public override Milestones Needs => Milestones.HomedXY | Milestones.ProbeTested;

    public override Milestones Gives => Milestones.OffsetVerified | Milestones.HomedZ;

    public override bool NeedsPerson => true;

    public override StepPlan Plan(MachineProfile profile) => new(Touches: 2, Homings: 1, Motions: 50, Questions: 25);

    /// <summary>
    /// Keys: <c>tolerance_mm</c>, how far the paper may drag from where the offset promises, 0.01 to 0.2, 0.06 unless said otherwise;
    /// <c>paper_mm</c>, 0.03 to 0.5, and <c>zero_means</c>: those of the step-down before it in the run unless said, then 0.10 and touching.
    /// </summary>
    public static Step Read(TomlSection section) => new VerifyStep(
        section.Number("tolerance_mm", 0.01, 0.2, 0.06),
        section.Has("paper_mm") ? section.Number("paper_mm", 0.03, 0.5, Gauge.DefaultMm) : null,
        section.Has("zero_means") ? ZeroMeaning.Read(section) : string.Empty);

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        string plate = await context.PlateAsync();
        ProbeOffset offset = await context.DoAsync(new ReadProbeOffset());
        VerifyConclusion conclusion = await context.InSectionAsync("prove", Retake.WhenInterrupted, null, () => ProveAsync(context, offset));
        if (conclusion.Findings is [{ Id: PaperElsewhere }])
        {
            // One answer without thought can end a short paper test anywhere; a real error shows twice.
            context.Warn($"{conclusion.Findings[0].Title} {conclusion.Findings[0].Evidence} It is proven once more.");
            conclusion = await context.InSectionAsync("prove again", Retake.WhenInterrupted, null, () => ProveAsync(context, offset));
        }

        await context.DoAsync(new DeclareOffsetVerified(conclusion.Verdict.State == VerdictWord.Fit));
        Temperatures heat = await context.DoAsync(new ReadTemperatures());
        return conclusion with { TakenUnder = new TakenUnder(heat.BedCelsius, heat.NozzleCelsius, heat.BedTargetCelsius, plate) };
    }

    private async Task<VerifyConclusion> ProveAsync(StepContext context, ProbeOffset offset)
    {
        BedPoint place = context.Profile.Travel.HomingPlace;
        var approach = new PaperApproach(context, place, Around);
        await context.HandsClearAsync(PromptIds.VerifyHomeHandsClear, "The nozzle comes down until the probe touches the bed, so that the machine knows its height anew, now with the stored offset. After that you look at the gap under the nozzle, from far to near. Paper out, hands clear?");
        await context.DoAsync(new HomeAxes(Axes.Z));
        PaperGround ground = await approach.TouchAsync(2);
        if (Math.Abs(ground.MeanMm + offset.Z) > TriggerToleranceMm)
        {
            return Wrong(
                "verify.trigger-elsewhere",
                "After homing the probe does not trigger where the stored offset says.",
                FormattableString.Invariant($"Offset {offset.Z:0.000} mm, trigger at {ground.MeanMm:0.000} mm instead of {-offset.Z:0.000} mm."));
        }

        PaperOpening opening = await approach.OpenAsync(ground);
        if (!await LooksRightAsync(context, approach, ground, FarMm, PromptIds.VerifyGapFive, "about 5 mm: a pencil does not quite go under it"))
        {
            await approach.CloseAsync(opening);
            return GapWrong(FarMm);
        }

        if (ground.ContactMm > NearMm - GuardLimits.FloorMarginMm)
        {
            // By the touch the bed may be higher than the next height: whatever was seen, the nozzle does not go there.
            await approach.CloseAsync(opening);
            return Wrong(
                GapWrongId,
                "By its touch the bed lies higher than the offset promises.",
                FormattableString.Invariant($"The probe triggered at {ground.MeanMm:0.000} mm, and the profile says that the nozzle touches {context.Profile.Probe.TriggerToNozzleMm:0.00} mm lower: at {ground.ContactMm:0.000} mm, not at 0. The nozzle was not sent lower than {FarMm:0} mm."));
        }

        if (!await LooksRightAsync(context, approach, ground, NearMm, PromptIds.VerifyGapOne, "about 1 mm: a coin of that thickness just fits"))
        {
            await approach.CloseAsync(opening);
            return GapWrong(NearMm);
        }

        return await PaperAsync(context, approach, ground, opening);
    }

    private static async Task<bool> LooksRightAsync(StepContext context, PaperApproach approach, PaperGround ground, double height, string id, string seen)
    {
        await context.HandsClearAsync(PromptIds.VerifyApproachHandsClear, FormattableString.Invariant($"The nozzle goes to {height:0} mm above the bed. Paper out, hands clear?"));
        await ApproachAsync(context, approach.NearBed(ground), height);
        Answer gap = await context.AskAsync(Prompts.Choose(
            id, $"Is the gap between nozzle and bed {seen}?", "A wrong sign or a doubled offset shows here as a gap of several millimetres too much or none.", ("wrong", "no, or not sure"), ("right", "yes")));
        return gap.Value == "right";
    }

    /// <summary>Where the paper should drag: at its own thickness, or at 0 where that is what Z = 0 means.</summary>
    private double Promised(StepContext context)
    {
        StepDownConclusion? found = context.EarlierOrNull<StepDownConclusion>();
        string zero = zeroMeans.Length > 0 ? zeroMeans : found?.ZeroMeans ?? ZeroMeaning.Touching;
        return zero == ZeroMeaning.Paper ? 0 : paperMm ?? found?.PaperThicknessMm ?? Gauge.DefaultMm;
    }

    private async Task<VerifyConclusion> PaperAsync(StepContext context, PaperApproach approach, PaperGround ground, PaperOpening opening)
    {
        double promised = Promised(context);
        // No question-free way leads nearer to the bed than the entered distance allows for, whatever the offset promises.
        double start = Math.Max(promised + 0.2, ground.ContactMm + GuardLimits.FloorMarginMm + 0.15) + context.Chance("prove", "start").Between(0, 0.2);
        double slowBelow = Math.Max(promised + PaperTakePlan.SlowAboveKnownDragMm, ground.ContactMm + PaperTakePlan.SlowAboveEnteredContactMm);
        PaperTakeResult take = await approach.TakeAsync(ground, opening, new PaperTakePlan(1, PromptIds.VerifyPaper, start, 0.1, opening.LowestMm, 0.025, 25, SlowBelowMm: slowBelow));
        await approach.CloseAsync(opening);
        if (take.Drag is not { } drag)
        {
            return Wrong(
                "verify.no-drag",
                "The paper test of the verification came to no end.",
                take.PinDown ? "The probe's tip was seen to be down." : take.CalledOff ? "Called off by the person." : "The paper never dragged.");
        }

        DragPromise promise = DragPromise.Of(drag.ThresholdMm, drag.StandardErrorMm, promised, toleranceMm, UsualHomingSigmaMm);
        return promise.IsKept
            ? new VerifyConclusion(Verdicts.Fit(FormattableString.Invariant($"The paper drags at {drag.ThresholdMm:0.000} mm; {promised:0.00} was promised."), 0.95), [], drag.ThresholdMm, promise.DifferenceMm)
            : Wrong(
                PaperElsewhere,
                "The paper drags at another height than the offset promises.",
                FormattableString.Invariant($"Drag at {drag.ThresholdMm:0.000} mm instead of {promised:0.00} mm."),
                drag.ThresholdMm,
                promise.DifferenceMm);
    }

    /// <summary>Down to a height above the bed, in steps where the guard wants them.</summary>
    private static async Task ApproachAsync(StepContext context, double near, double height)
    {
        double step = context.Profile.Travel.ZStepMm;
        double at = Math.Round(Math.Ceiling(Math.Max(height, near) / step) * step, 6);
        await context.DoAsync(new MoveToHeight(at, context.Profile.Travel.LiftFeedMmPerMin));
        while (at - height > step / 2)
        {
            at = Math.Round(Math.Max(height, at - 0.095), 6);
            await context.DoAsync(new MoveToHeight(at, context.Profile.Travel.SlowFeedMmPerMin));
        }
    }

    private static VerifyConclusion GapWrong(double height) => Wrong(
        GapWrongId, "The gap seen is not the gap commanded.", FormattableString.Invariant($"Commanded {height:0} mm; the person saw another gap."));

    private static VerifyConclusion Wrong(string id, string title, string evidence, double paperHeight = 0, double difference = 0) => new(
        Verdicts.NotFit(title),
        [new Finding(id, title, difference == 0 ? null : Math.Abs(difference), "nozzle", 0.95, evidence, "Do not print. Put the old settings back, look for a change of sign or a second offset in the controller or slicer, then run the step-down again.")],
        paperHeight,
        difference);
}
