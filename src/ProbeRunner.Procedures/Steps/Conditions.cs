using ProbeRunner.Machine.Heat;

namespace ProbeRunner.Procedures.Steps;

/// <summary>Under what conditions something was measured, in words.</summary>
internal static class Conditions
{
    /// <summary>From the temperatures.</summary>
    /// <param name="heat">What the machine told.</param>
    /// <param name="soaked">For how long the bed had been at its temperature, where that is known.</param>
    /// <param name="plate">The plate on the bed, by the person's name for it; empty when nobody said.</param>
    public static string Of(Temperatures heat, TimeSpan soaked = default, string plate = "") => FormattableString.Invariant(
        $"bed {heat.BedCelsius:0} degC, nozzle {heat.NozzleCelsius:0} degC, {(heat.HeatersOff ? "heaters off: a cold result, valid as it is only for a cold bed" : "heated")}{(soaked > TimeSpan.Zero ? $", soaked for {soaked.TotalMinutes:0} minutes" : string.Empty)}{(plate.Length > 0 ? $", plate \"{plate}\"" : string.Empty)}");
}
