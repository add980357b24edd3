using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.WarmUp;

/// <summary>
/// Touches one place again and again while bed and nozzle warm, until the height is settled for certain or the time is over. A person is present
/// throughout. The touches share one datum; after an interruption that lost it the watch begins anew.
/// </summary>
internal sealed class WarmUpStep(WarmUpParameters parameters) : Step
{
    private const double AtTargetCelsius = 3;
    private static readonly TimeSpan LongestHeating = TimeSpan.FromMinutes(30);

    public override string Name => "warm-up";

    public override string Title => "Warm-up watch";

    public override string Purpose => "A plate goes on moving after its sensor says warm. How long to wait before anything is measured or printed is seen here, not guessed.";

    public override string WhatGoodLooksLike => "The height moves a few hundredths of a millimetre, ever more slowly, and the watch ends by itself.";

    public override Milestones Needs => Milestones.HomedZ;

    public override bool NeedsPerson => true;

    public override bool Heats => true;

    public override StepPlan Plan(MachineProfile profile) => new(Touches: (int)(parameters.Most / (parameters.Pause + TimeSpan.FromSeconds(8)) / 2), Questions: 2);

    public override string? WhyImpossible(MachineProfile profile) => PlaceParameter.WhyOutOfReach(parameters.Place, profile);

    /// <summary>Keys: those of <see cref="WarmUpParameters.Read"/>.</summary>
    public static Step Read(TomlSection section) => new WarmUpStep(WarmUpParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        HeatProfile heat = context.Profile.Heat;
        BedPoint at = parameters.Place ?? context.Profile.Travel.HomingPlace;
        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.WarmUpCautions,
            FormattableString.Invariant($"The bed heats to {heat.PrintingBedCelsius:0} degC and the nozzle to {heat.ProbingNozzleCelsius:0} degC, below oozing. Nothing that burns near it, nothing on the bed?"),
            "Nozzle and bed burn, long after they are switched off too. Stay with the machine while it is hot and know where its mains switch is."));
        await context.HandsClearAsync(
            PromptIds.WarmUpHandsClear,
            FormattableString.Invariant($"The machine heats and touches one place again and again until its height stands still, at most {parameters.Most.TotalMinutes:0} minutes once it is hot. Paper out, hands clear?"));
        WarmUpTally tally = await context.InSectionAsync("watch", Retake.WhenDatumLost, null, () => WatchAsync(context, at));
        return WarmUpJudgement.Conclude(parameters, at, tally, heat.Soak);
    }

    private async Task<WarmUpTally> WatchAsync(StepContext context, BedPoint at)
    {
        HeatProfile heat = context.Profile.Heat;
        Temperatures before = await context.DoAsync(new ReadTemperatures());
        var tally = new WarmUpTally(before.At, parameters.ToleranceMm, context.Profile.Travel.ZStepMm);
        await context.DoAsync(new SetHeaterTargets(heat.ProbingNozzleCelsius, heat.PrintingBedCelsius));
        while (!tally.IsSettled && !(tally.Hot >= parameters.Most))
        {
            Reading reading = await context.DoAsync(new TouchAt(at, tally.Points.Count + 1));
            Temperatures now = await context.DoAsync(new ReadTemperatures());
            bool isHot = Math.Abs(now.NozzleCelsius - heat.ProbingNozzleCelsius) <= AtTargetCelsius && Math.Abs(now.BedCelsius - heat.PrintingBedCelsius) <= AtTargetCelsius;
            tally.Add(reading, now, isHot);
            if (tally.Hot is null && tally.Since(reading.At) > LongestHeating)
            {
                throw new StepFailedException("The heaters did not reach their temperatures within half an hour. Heaters go off now. Check thermistors, heaters and draughts before trying again.");
            }

            await context.DoAsync(new StandStill(parameters.Pause));
        }

        if (!parameters.KeepHot)
        {
            await context.DoAsync(new SetHeaterTargets(0, 0));
        }

        return tally;
    }
}
