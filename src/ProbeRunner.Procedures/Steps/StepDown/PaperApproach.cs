using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.StepDown;

/// <summary>The questions around a take, which differ between the steps that use one.</summary>
/// <param name="PinUp">Id of the question whether the probe's tip is up; null where the person need not look.</param>
internal sealed record PaperApproachPrompts(string TouchHandsClear, string ApproachHandsClear, string PaperIn, string LiftHandsClear, string? PinUp = null);

/// <summary>What a take rests on: touches at the same place in the same datum epoch.</summary>
/// <param name="Heights">Trigger heights, mm.</param>
/// <param name="MeanMm">Their mean.</param>
/// <param name="ContactMm">Nozzle Z at which the nozzle should reach the bed, by the entered distance.</param>
internal sealed record PaperGround(IReadOnlyList<double> Heights, double MeanMm, double ContactMm);

/// <summary>The guard's opening over the place.</summary>
/// <param name="LowestMm">Nozzle Z below which it lets nothing go, mm.</param>
/// <param name="LimitsOpened">Whether the controller's own travel limits had to be opened.</param>
internal readonly record struct PaperOpening(double LowestMm, bool LimitsOpened);

/// <summary>Touches, comes down, lets a take be done, lifts again. Every phase begins with "paper out, hands clear".</summary>
internal sealed class PaperApproach(StepContext context, BedPoint place, PaperApproachPrompts prompts)
{
    /// <summary>Where steps of 0.1 mm begin, above the expected contact: a little above the guard's own limit.</summary>
    private const double NearBedMm = GuardLimits.NearBedMm + 0.02;

    /// <summary>Touches the place.</summary>
    public async Task<PaperGround> TouchAsync(int touches)
    {
        await context.HandsClearAsync(prompts.TouchHandsClear, "The probe touches the place a few times; watch that only the probe touches. Paper out, hands clear?");
        var heights = new List<double>();
        for (int touch = 1; touch <= touches; touch++)
        {
            Reading reading = await context.DoAsync(new TouchAt(place, touch));
            heights.Add(reading.Z);
        }

        double mean = heights.Average();
        return new PaperGround(heights, mean, mean - context.Profile.Probe.TriggerToNozzleMm);
    }

    /// <summary>Brings the nozzle over the place and opens the guard's floor.</summary>
    public async Task<PaperOpening> OpenAsync(PaperGround ground)
    {
        await context.HandsClearAsync(prompts.ApproachHandsClear, "The nozzle goes over the place and comes down close to the bed. Paper out, hands clear?");
        await context.DoAsync(new LiftToClearance());
        await context.DoAsync(new MoveNozzle(place));
        StepDownRoom room = await context.DoAsync(new OpenStepDown(ground.MeanMm, context.Profile.Probe.TriggerToNozzleMm));
        bool mustOpen = room.LowestMm < 0 && (await context.DoAsync(new LookAtMachine())).SoftLimitsOn != false;
        if (mustOpen)
        {
            await context.DoAsync(new SwitchSoftLimits(false));
        }

        return new PaperOpening(room.LowestMm, mustOpen);
    }

    /// <summary>
    /// Nozzle Z, a multiple of the finest step, from which steps of at most 0.1 mm are taken; never below the machine's lowest, where a wrong
    /// stored offset may put the bed.
    /// </summary>
    public double NearBed(PaperGround ground)
    {
        double step = context.Profile.Travel.ZStepMm;
        double near = Math.Max(ground.Heights.Max() - context.Profile.Probe.TriggerToNozzleMm + NearBedMm, context.Profile.Travel.LowestZ);
        return Math.Round(Math.Ceiling(near / step) * step, 6);
    }

    /// <summary>Comes down to where fine steps begin, has the paper put in, and does a take.</summary>
    public async Task<PaperTakeResult> TakeAsync(PaperGround ground, PaperOpening opening, PaperTakePlan plan)
    {
        double step = context.Profile.Travel.ZStepMm;
        double lowest = Math.Round(Math.Ceiling(opening.LowestMm / step) * step, 6);
        double from = Math.Max(NearBed(ground), lowest);
        await context.DoAsync(new MoveToHeight(from, context.Profile.Travel.LiftFeedMmPerMin));
        if (!await IsPinUpAsync())
        {
            return PaperTakeResult.WithPinDown;
        }

        await context.AskAsync(Prompts.Acknowledge(
            prompts.PaperIn,
            $"Lay the {plan.Gauge} under the nozzle and keep two fingers on its free end, well away from nozzle and bed, which may be hot. From here on the nozzle moves by at most a tenth of a millimetre at a time. Next you are asked what the {plan.Gauge} does.",
            $"The {plan.Gauge} is the measure; your hand stays where the nozzle can't reach it."));
        return await new PaperTake(context, plan with { StartMm = Math.Clamp(plan.StartMm, lowest, from), LowestMm = lowest }).RunAsync(from);
    }

    private async Task<bool> IsPinUpAsync()
    {
        if (prompts.PinUp is not { } id || context.Profile.Probe.Kind is not (ProbeKind.RetractablePin or ProbeKind.Docked))
        {
            return true;
        }

        Answer up = await context.AskAsync(Prompts.YesNo(
            id,
            "Look at the probe from the side, hands away: is its tip up (or the probe in its dock), clearly higher than the nozzle's tip?",
            "A tip that hangs lower than the nozzle would press on the bed while the nozzle is still above it. With no, the nozzle lifts and the test ends; with yes, the paper goes in."));
        return up.Value == "yes";
    }

    /// <summary>Lifts off and puts the limits back.</summary>
    public async Task CloseAsync(PaperOpening opening)
    {
        await context.HandsClearAsync(prompts.LiftHandsClear, "The nozzle lifts. Take the paper out. Paper out, hands clear?");
        await context.DoAsync(new LiftToClearance());
        await context.DoAsync(new CloseStepDown());
        if (opening.LimitsOpened)
        {
            await context.DoAsync(new SwitchSoftLimits(true));
        }
    }
}
