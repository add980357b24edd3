using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.TouchReport;

/// <summary>
/// Proves that a touch report means what the dialect says: its place against the place asked for and the position asked afterwards, its
/// height against what the homing just defined. Where the stored Z offset is too small to tell, it is changed for one touch and put back.
/// </summary>
internal sealed class TouchReportStep : Step
{
    private const double OtherOffsetByMm = -1; // the nozzle then counts as higher than it is, never as lower

    public override string Name => "touch-report-check";

    public override string Title => "Do touch reports mean what they should?";

    public override string Purpose => "Controllers differ in what they report of a touch: the probe's place or the nozzle's, with the stored offset or without. Taken the wrong way, every height is wrong by the same amount and looks fine.";

    public override string WhatGoodLooksLike => "The place reported is the place touched, and at the homing place the height is the one that the homing just defined.";

    public override Milestones Needs => Milestones.HomedXY | Milestones.HomedZ | Milestones.ProbeTested;

    public override bool NeedsPerson => false;

    public override bool IsGate => true;

    public override StepPlan Plan(MachineProfile profile) => new(Touches: 3, Questions: 1, Exchanges: 1);

    /// <summary>No keys.</summary>
    public static Step Read(TomlSection section) => new TouchReportStep();

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        ProbeOffset offset = await context.DoAsync(new ReadProbeOffset());
        bool homesWithProbe = context.Profile.Travel.HomesWithProbe;
        await context.HandsClearAsync(
            PromptIds.TouchReportHandsClear,
            "The probe touches the bed at three places, the first where the machine homes; the program compares what the controller reports with where it says the nozzle is. Paper out, hands clear?");
        ImmutableArray<TouchCheck> touches = await context.InSectionAsync("touches", Retake.WhenInterrupted, null, () => TouchAsync(context, Places(context.Profile, offset)));
        ImmutableArray<Finding> findings = TouchReportJudgement.OfPlaces(touches, offset);
        ImmutableArray<TouchCheck> others = [];
        if (findings.IsEmpty && homesWithProbe && Math.Abs(offset.Z) >= TouchReportJudgement.LeastTellingOffsetMm)
        {
            findings = Findings(TouchReportJudgement.OfHeight(touches[0], -offset.Z, offset.Z));
        }
        else if (findings.IsEmpty)
        {
            await context.HandsClearAsync(
                PromptIds.TouchReportHomeHandsClear,
                "The stored Z offset can't tell which height the controller reports. It is changed by a millimetre, Z is homed, the probe touches once; then the old offset is put back and Z is homed again. Paper out, hands clear?");
            ProbeOffset other = offset with { Z = offset.Z + OtherOffsetByMm };
            others = await context.InSectionAsync("other offset", Retake.WhenInterrupted, null, () => TouchWithAsync(context, other, offset));
            findings = Findings(TouchReportJudgement.OfHeight(others[0], homesWithProbe ? -other.Z : touches[0].NozzleMm, homesWithProbe ? other.Z : OtherOffsetByMm));
        }

        return new TouchReportConclusion(
            findings.IsEmpty ? Verdicts.Fit("Places and heights in touch reports are what the dialect takes them to be.") : Verdicts.NotFit(findings[0].Title),
            findings,
            touches,
            others);
    }

    private static async Task<ImmutableArray<TouchCheck>> TouchAsync(StepContext context, ImmutableArray<BedPoint> places)
    {
        var touches = ImmutableArray.CreateBuilder<TouchCheck>(places.Length);
        foreach (BedPoint place in places)
        {
            touches.Add(await context.DoAsync(new CheckTouch(place)));
        }

        await context.DoAsync(new LiftToClearance());
        return touches.ToImmutable();
    }

    private static async Task<ImmutableArray<TouchCheck>> TouchWithAsync(StepContext context, ProbeOffset other, ProbeOffset back)
    {
        await context.DoAsync(new WriteProbeOffset(other));
        await context.DoAsync(new HomeAxes(Axes.Z));
        ImmutableArray<TouchCheck> touches = await TouchAsync(context, [context.Profile.Travel.HomingPlace]);
        await context.DoAsync(new WriteProbeOffset(back));
        await context.DoAsync(new HomeAxes(Axes.Z));
        return touches;
    }

    /// <summary>The homing place, and two places to the left and right, front and back of it that the probe reaches.</summary>
    private static ImmutableArray<BedPoint> Places(MachineProfile profile, ProbeOffset offset)
    {
        ReachableArea reach = ReachableArea.ForProbe(profile, offset);
        BedPoint home = profile.Travel.HomingPlace;
        (double x, double y) = (profile.Bed.WidthMm / 5, profile.Bed.DepthMm / 5);
        BedPoint[] wanted = [new(home.X - x, home.Y - y), new(home.X + x, home.Y + y)];
        return [home, .. wanted.Select(place => reach.CanTouch(place) ? place : home)];
    }

    private static ImmutableArray<Finding> Findings(Finding? finding) => finding is null ? [] : [finding];
}
