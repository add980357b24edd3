using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Heating;

/// <summary>What temperatures a step wants, and for how long the bed is to have had its own.</summary>
/// <param name="NozzleCelsius">Nozzle, degC.</param>
/// <param name="BedCelsius">Bed, degC.</param>
/// <param name="Soak">Counted from when the bed reached its temperature, in whatever step of the run that was.</param>
internal sealed record HeatPlan(double NozzleCelsius, double BedCelsius, TimeSpan Soak);

/// <summary>
/// Heats nozzle and bed and lets the bed soak; for use inside a section, all axes homed, hands clear. Called again it
/// finds everything hot and returns at once, or serves what an interruption has cost.
/// </summary>
internal static class HotBed
{
    private static readonly TimeSpan Poll = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan SoakPart = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan LongestHeating = TimeSpan.FromMinutes(30);
    private const double MoveMm = 1;

    /// <summary>Reaches the temperatures and serves what is left of the soak.</summary>
    /// <returns>The last report.</returns>
    /// <exception cref="StepFailedException">A heater did not reach its temperature, or the bed did not hold it.</exception>
    public static async Task<Temperatures> ReachAsync(StepContext context, HeatPlan plan)
    {
        Temperatures heat = await HeatAsync(context, plan);
        TimeSpan soaked = await context.DoAsync(new ReadSoak(plan.BedCelsius, plan.Soak));
        if (soaked < plan.Soak)
        {
            context.Remark(FormattableString.Invariant($"The bed soaks for {(plan.Soak - soaked).TotalMinutes:0} minutes more: a plate goes on bending after its sensor is warm."));
        }

        for (int part = 0; soaked < plan.Soak; part++)
        {
            if (part * SoakPart > plan.Soak + LongestHeating)
            {
                throw new StepFailedException("The bed did not hold its temperature long enough to soak. Heaters go off now. Check the bed's heater, its sensor and draughts before trying again.");
            }

            // Whole parts, so that how long the machine stands does not hang on a clock's last milliseconds.
            await context.DoAsync(new StandStill(plan.Soak < SoakPart ? plan.Soak : SoakPart));
            await StirAsync(context, part);
            heat = await HeatAsync(context, plan);
            soaked = await context.DoAsync(new ReadSoak(plan.BedCelsius, plan.Soak));
        }

        return heat;
    }

    /// <summary>A little level move, so that the controller does not let go of its motors and Z stays homed.</summary>
    private static async Task StirAsync(StepContext context, int part)
    {
        BedPoint middle = context.Profile.Travel.HomingPlace;
        await context.DoAsync(new LiftToClearance());
        await context.DoAsync(new MoveNozzle(middle with { X = middle.X + (part % 2 * MoveMm) }));
    }

    private static async Task<Temperatures> HeatAsync(StepContext context, HeatPlan plan)
    {
        Temperatures heat = await context.DoAsync(new ReadTemperatures());
        if (heat.NozzleTargetCelsius != plan.NozzleCelsius || heat.BedTargetCelsius != plan.BedCelsius)
        {
            await context.DoAsync(new SetHeaterTargets(plan.NozzleCelsius, plan.BedCelsius));
            heat = await context.DoAsync(new ReadTemperatures());
        }

        for (int polled = 0; !IsReached(heat, plan); polled++)
        {
            if (polled * Poll > LongestHeating)
            {
                throw new StepFailedException("The heaters did not reach their temperatures within half an hour. Heaters go off now. Check thermistors, heaters and draughts before trying again.");
            }

            await context.DoAsync(new StandStill(Poll));
            heat = await context.DoAsync(new ReadTemperatures());
        }

        return heat;
    }

    private static bool IsReached(Temperatures heat, HeatPlan plan) =>
        IsReached(heat.NozzleCelsius, plan.NozzleCelsius) && IsReached(heat.BedCelsius, plan.BedCelsius);

    private static bool IsReached(double celsius, double target) => target == 0 || Math.Abs(celsius - target) <= BedWatch.AtTemperatureCelsius;
}
