using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;
using ProbeRunner.Procedures.Steps.StepDown;

namespace ProbeRunner.Procedures.Steps.Lean;

/// <summary>
/// Touches and feels for the bed with paper at places along the gantry: does the distance from nozzle to trigger change on the way?
/// Each visit homes Z anew and keeps drag and touch in one datum epoch; visits go to and fro, so that a steady drift falls out.
/// </summary>
internal sealed class LeanStep(LeanParameters parameters) : Step
{
    private const double FirstStartAboveContactMm = 0.65;
    private const double NewPlaceStartAboveDragMm = 0.4;
    private const double LaterStartAboveDragMm = 0.12;
    private const int MostSpoilt = 4;

    private static readonly PaperApproachPrompts Around = new(
        PromptIds.LeanTouchHandsClear, PromptIds.LeanApproachHandsClear, PromptIds.LeanPaperIn, PromptIds.LeanLiftHandsClear);

    public override string Name => "lean";

    public override string Title => "Lean along the gantry";

    public override string Purpose => "A carriage that turns a little as it goes along makes the probe trigger earlier on one side than on the other. The probe's map then is not the bed that the nozzle sees, and one offset does not fit both sides.";

    public override string WhatGoodLooksLike => "From nozzle to trigger it is as far on the left as on the right, within a few hundredths of a millimetre.";

    public override Milestones Needs => Milestones.HomedXY | Milestones.HomedZ | Milestones.ProbeTested;

    public override Milestones Wants => Milestones.GantryLevel;

    public override bool NeedsPerson => true;

    public override StepPlan Plan(MachineProfile profile) => new(
        Touches: parameters.Visits(profile) * parameters.Touches,
        Homings: parameters.Visits(profile),
        Motions: parameters.Visits(profile) * 40,
        Questions: parameters.Visits(profile) * 18);

    public override string? WhyImpossible(MachineProfile profile) => Rows(profile, profile.Probe.Offset).FirstOrDefault(row => row.Places.IsEmpty) is { } none
        ? $"along {none.Axis} there is no room for {parameters.Places} places that both probe and nozzle reach; check the probe's offset and the clips in the profile."
        : null;

    public static Step Read(TomlSection section) => new LeanStep(LeanParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        ProbeOffset offset = await context.DoAsync(new ReadProbeOffset());
        Temperatures heat = await context.DoAsync(new ReadTemperatures());
        var judgement = new LeanJudgement(context.Profile, parameters);
        var found = new List<LeanAlongAxis>();
        foreach (LeanPlaces row in Rows(context.Profile, offset))
        {
            if (row.Places.IsEmpty)
            {
                return judgement.Conclude(found, heat, LeanJudgement.NoRoom(row.Axis));
            }

            (List<LeanVisit> visits, Finding? wrong) = await VisitAsync(context, row);
            if (wrong is not null)
            {
                return judgement.Conclude(found, heat, wrong);
            }

            LeanAlongAxis lean = judgement.Fit(row, visits);
            context.Remark(FormattableString.Invariant($"Along {lean.Axis}: from the bed's middle to its {(lean.Axis == "X" ? "right" : "back")} side the distance grows by {lean.LowerMm:0.000} to {lean.UpperMm:0.000} mm."));
            found.Add(lean);
        }

        return judgement.Conclude(found, heat, null);
    }

    private IEnumerable<LeanPlaces> Rows(MachineProfile profile, ProbeOffset offset)
    {
        yield return LeanPlaces.Of(profile, offset, "X", parameters.Places);
        if (parameters.AlongY(profile))
        {
            yield return LeanPlaces.Of(profile, offset, "Y", parameters.Places);
        }
    }

    private async Task<(List<LeanVisit> Visits, Finding? Wrong)> VisitAsync(StepContext context, LeanPlaces row)
    {
        var visits = new List<LeanVisit>();
        int spoilt = 0;
        for (int pass = 1; pass <= parameters.Passes; pass++)
        {
            foreach (BedPoint place in pass % 2 == 1 ? row.Places : [.. row.Places.Reverse()])
            {
                LeanVisit? visit = null;
                while (visit is null)
                {
                    string section = FormattableString.Invariant($"{row.Axis} visit {visits.Count + 1}, try {spoilt + 1}");
                    (int number, List<LeanVisit> before) = (pass, [.. visits]);
                    (PaperGround ground, PaperTakeResult take) = await context.InSectionAsync(
                        section, Retake.WhenInterrupted, null, () => TakeAsync(context, section, place, number, before));
                    if (take.Drag is { } drag && !take.FalseContact)
                    {
                        visit = new LeanVisit(place, pass, ground.MeanMm, drag.ThresholdMm, drag.StandardErrorMm);
                    }
                    else if (take.CalledOff)
                    {
                        return (visits, LeanJudgement.CalledOff);
                    }
                    else if (++spoilt > MostSpoilt)
                    {
                        return (visits, LeanJudgement.NoDrag(place));
                    }
                    else
                    {
                        context.Remark("This place is taken again: the paper was felt where it then kept free, or never.");
                    }
                }

                visits.Add(visit.Value);
            }
        }

        return (visits, null);
    }

    private async Task<(PaperGround Ground, PaperTakeResult Take)> TakeAsync(StepContext context, string section, BedPoint place, int pass, List<LeanVisit> before)
    {
        var approach = new PaperApproach(context, place, Around);
        await context.HandsClearAsync(
            PromptIds.LeanHomeHandsClear,
            FormattableString.Invariant($"Pass {pass} of {parameters.Passes}: the nozzle comes down until the probe touches the bed, so that the machine knows its height anew; then you feel for paper at x {place.X:0}, y {place.Y:0} (from the left and from the front edge, mm). Paper out, hands clear?"));
        await context.DoAsync(new HomeAxes(Axes.Z));
        PaperGround ground = await approach.TouchAsync(parameters.Touches);
        PaperOpening opened = await approach.OpenAsync(ground);
        double chance = context.Chance(section, "start").Between(0, 0.2);
        LeanVisit? here = before.Where(visit => visit.Place == place).Cast<LeanVisit?>().LastOrDefault();
        double start = here is { } known
            ? ground.MeanMm - known.TouchOverDragMm + LaterStartAboveDragMm
            : before.Count > 0
                ? ground.MeanMm - before[^1].TouchOverDragMm + NewPlaceStartAboveDragMm // how much it leans is not known yet
                : ground.ContactMm + FirstStartAboveContactMm;
        double slowBelow = before.Count > 0
            ? ground.MeanMm - (here ?? before[^1]).TouchOverDragMm + PaperTakePlan.SlowAboveKnownDragMm
            : ground.ContactMm + PaperTakePlan.SlowAboveEnteredContactMm;
        PaperTakeResult take = await approach.TakeAsync(ground, opened, new PaperTakePlan(
            before.Count + 1, PromptIds.LeanPaper, start + chance, here is null ? 0.1 : 0.05, double.NegativeInfinity, parameters.HalfWidthMm, parameters.MostAnswers, SlowBelowMm: slowBelow));
        await approach.CloseAsync(opened);
        return (ground, take);
    }
}
