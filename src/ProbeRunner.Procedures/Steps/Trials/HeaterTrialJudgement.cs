using System.Collections.Immutable;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.Trials;

/// <summary>
/// What a watched heater shows. The limits are common practice, no source: a heater's last heat still spreads for a while after it was
/// switched off, by some kelvins; one that stays on rises on and on.
/// </summary>
public static class HeaterTrialJudgement
{
    /// <summary>A rise that shows that the heater heats, K.</summary>
    public const double LeastRiseKelvin = 2;

    /// <summary>The most that the last heat may still add, K.</summary>
    public const double MostOvershootKelvin = 15;

    /// <summary>What is wrong with each; empty when nothing is.</summary>
    public static ImmutableArray<Finding> Of(IEnumerable<HeaterWatch> heaters)
    {
        ArgumentNullException.ThrowIfNull(heaters);
        return [.. heaters.Select(Of).OfType<Finding>()];
    }

    private static Finding? Of(HeaterWatch heater)
    {
        string rose = FormattableString.Invariant($"From {heater.BeganCelsius:0.0} degC it came to {heater.SwitchedOffCelsius:0.0} while on, and to {heater.HighestCelsius:0.0} after it was switched off; its target then was {heater.TargetAfterCelsius:0.#}.");
        if (heater.TargetAfterCelsius != 0 || heater.SettledAfter is null || heater.HighestCelsius - heater.SwitchedOffCelsius > MostOvershootKelvin)
        {
            return New(
                $"{heater.Name}-stays-on",
                $"The {heater.Name}'s heater was not shown to switch off.",
                heater.Name,
                rose,
                "Switch off at the mains now and let it cool. A switching part that has failed closed heats without end: have heater, wiring and controller looked at by somebody qualified before the machine is switched on again.");
        }

        return heater.SwitchedOffCelsius - heater.BeganCelsius < LeastRiseKelvin
            ? New(
                $"{heater.Name}-does-not-warm",
                $"The {heater.Name} did not get warmer when told to.",
                heater.Name,
                rose,
                $"Check that the heater's supply is on, then its plug and the sensor's: a sensor that hangs loose lets a heater run away. If this machine has no heater there, leave it out of the trial (heaters).")
            : null;
    }

    private static Finding New(string id, string title, string where, string evidence, string next) => new($"heater-trial.{id}", title, null, where, 1, evidence, next);
}
