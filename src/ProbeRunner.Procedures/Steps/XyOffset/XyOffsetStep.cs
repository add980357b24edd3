using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.XyOffset;

/// <summary>Where the probe sits seen from the nozzle: kept, by ruler, or by a mark found again; drawn, checked, written, never stored.</summary>
internal sealed class XyOffsetStep(BedPoint? place) : Step
{
    private const double WorthWritingMm = 0.05;

    /// <summary>Half a millimetre beside a place is a thousandth in height on a bed that was levelled by hand, and about as well as pen and eye can tell.</summary>
    private const double WorthWritingFromMarkMm = 0.5;
    private const double ColdCelsius = 45;

    public override string Name => "probe-offset";

    public override string Title => "Probe offset in X and Y";

    public override string Purpose => "The probe sits beside the nozzle. Where exactly decides which place of the bed every reading belongs to; a wrong sign puts the whole map on the wrong side.";

    public override string WhatGoodLooksLike => "The drawing looks like the machine, and the homing place lies near the bed's middle, within the probe's reach.";

    public override Milestones Needs => Milestones.HomedXY | Milestones.HomedZ | Milestones.ProbeTested;

    public override bool NeedsPerson => true;

    public override bool IsGate => true;

    public override StepPlan Plan(MachineProfile profile) => new(Touches: 1, Homings: 1, Motions: 30, Questions: 30);

    public override string? WhyImpossible(MachineProfile profile) => PlaceParameter.WhyOutOfReach(place, profile)
        ?? (place is not { } at || ReachableArea.ForNozzle(profile).CanTouch(at)
            ? null
            : FormattableString.Invariant($"the nozzle can't come down at place_mm = [{at.X}, {at.Y}]; choose a place off the clips."));

    /// <summary>Key: <c>place_mm</c>, where the mark is made; the homing place unless said otherwise.</summary>
    public static Step Read(TomlSection section) => new XyOffsetStep(PlaceParameter.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        ProbeOffset before = await context.DoAsync(new ReadProbeOffset());
        if (context.Profile.Probe.Kind == ProbeKind.NozzleContact)
        {
            return Conclude(context, Verdicts.Fit("The nozzle is the probe: there is no distance between them."), [], "keep", before, before);
        }

        string method = (await context.AskAsync(Prompts.Choose(
            PromptIds.ProbeOffsetMethod,
            $"The controller says: {OffsetDrawing.AlongX(before.X)} {OffsetDrawing.AlongY(before.Y)} Stand before the machine and look whether that can be. How shall it be checked?",
            "Every reading belongs to the place under the probe, and the machine finds that place by this distance. A ruler is quick and good to a millimetre. The mark takes a few minutes and is good to a few tenths: the nozzle's place is marked on tape, and the probe is brought over it.",
            ("keep", "it was measured already: keep it"),
            ("ruler", "I measure with a ruler"),
            ("mark", "mark a place with the nozzle, find it with the probe")))).Value;
        ProbeOffset? measured = before;
        if (method == "ruler")
        {
            measured = await RulerEntry.AskAsync(context, before.Z);
        }
        else if (method == "mark")
        {
            Temperatures heat = await context.DoAsync(new ReadTemperatures());
            if (heat.NozzleCelsius > ColdCelsius)
            {
                return Conclude(context, Verdicts.NotFit("The nozzle is too hot to work beside it."), [HotFinding(heat)], method, before, before);
            }

            BedPoint mark = place ?? context.Profile.Travel.HomingPlace;
            measured = await context.InSectionAsync("mark and find", Retake.WhenInterrupted, null, () => new MarkAndFind(context, mark).RunAsync(before));
        }

        return measured is { } offset
            ? await ConfirmAsync(context, method, before, offset)
            : Conclude(context, Verdicts.NotFit("The mark was not found again; the offset is as it was."), [NotFoundFinding], method, before, before);
    }

    private static async Task<StepConclusion> ConfirmAsync(StepContext context, string method, ProbeOffset before, ProbeOffset offset)
    {
        foreach (string line in OffsetDrawing.Lines(offset.X, offset.Y))
        {
            context.Remark(line);
        }

        Answer looks = await context.AskAsync(Prompts.Choose(
            PromptIds.ProbeOffsetDrawing,
            $"{OffsetDrawing.AlongX(offset.X)} {OffsetDrawing.AlongY(offset.Y)} Stand before the machine and compare it with the drawing: is the probe on that side of the nozzle?",
            "With a wrong side every reading would belong to another place of the bed. If right, an offset that differs is written now, Z is homed with it, and the storing step stores it later.",
            ("wrong", "no, or not sure"),
            ("right", "yes, as drawn")));
        if (looks.Value != "right")
        {
            return Conclude(context, Verdicts.NotFit("The drawing does not look like the machine; nothing was written."), [WrongSideFinding], method, before, before);
        }

        ProbeOffset after = before;
        bool isOther = Math.Max(Math.Abs(offset.X - before.X), Math.Abs(offset.Y - before.Y)) > (method == "mark" ? WorthWritingFromMarkMm : WorthWritingMm);
        if (isOther)
        {
            await context.HandsClearAsync(PromptIds.ProbeOffsetHomeHandsClear, "The offset is written, and Z is homed again with it. Paper and tape off the bed, hands clear?");
            after = await context.InSectionAsync("write and home", Retake.WhenInterrupted, null, () => WriteAsync(context, offset));
            context.NoteChange("probe offset X, Y", Words(before), Words(after));
        }

        return Conclude(
            context,
            Verdicts.Fit(isOther || method == "keep"
                ? FormattableString.Invariant($"The probe's offset is {after.X:0.00}, {after.Y:0.00} mm.")
                : FormattableString.Invariant($"The probe's offset was measured as {offset.X:0.00}, {offset.Y:0.00} mm: as near to the controller's {after.X:0.00}, {after.Y:0.00} mm as pen and eye can tell, so that was kept.")),
            ReachFindings.For(context.Profile, after),
            method,
            before,
            after);
    }

    private static async Task<ProbeOffset> WriteAsync(StepContext context, ProbeOffset offset)
    {
        ProbeOffset readBack = await context.DoAsync(new WriteProbeOffset(offset));
        await context.DoAsync(new HomeAxes(Axes.Z));
        return readBack;
    }

    private static XyOffsetConclusion Conclude(
        StepContext context, StepVerdict verdict, ImmutableArray<Finding> findings, string method, ProbeOffset before, ProbeOffset after) => new(
        findings.Any(finding => finding.Id == "probe-offset.homing-place-unreachable") ? Verdicts.NotFit("The probe can't touch the homing place with this offset.") : verdict,
        findings,
        method,
        before,
        after,
        OffsetDrawing.Lines(after.X, after.Y),
        ReachableArea.ForProbe(context.Profile, after).Bounds);

    private static string Words(ProbeOffset offset) => FormattableString.Invariant($"{offset.X:0.00}, {offset.Y:0.00} mm");

    private static Finding HotFinding(Temperatures heat) => new(
        "probe-offset.nozzle-hot", "The nozzle is too hot to draw a mark beside it.", null, "nozzle", 1,
        FormattableString.Invariant($"It is at {heat.NozzleCelsius:0} degC; {ColdCelsius:0} degC or less is safe for hands."), "Let it cool, then do this step again.");

    private static Finding NotFoundFinding => new(
        "probe-offset.mark-not-found", "The probe was not brought over the mark.", null, "probe", 1,
        "It was called off, or the way to the mark led out of the nozzle's travel or farther than 40 mm.",
        "Measure with a ruler first, so that the search begins near the mark; or choose another place_mm.");

    private static Finding WrongSideFinding => new(
        "probe-offset.wrong-side", "The drawing does not look like the machine.", null, "probe", 1,
        "The person at the machine sees the probe on another side of the nozzle.", "Do this step again with a ruler: it asks for sides, not for signs.");
}
