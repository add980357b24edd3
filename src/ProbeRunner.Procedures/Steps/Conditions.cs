using ProbeRunner.Machine.Heat;

namespace ProbeRunner.Procedures.Steps;

/// <summary>Under what conditions something was measured, in words.</summary>
internal static class Conditions
{
    /// <summary>From the temperatures.</summary>
    public static string Of(Temperatures heat) => FormattableString.Invariant(
        $"bed {heat.BedCelsius:0} degC, nozzle {heat.NozzleCelsius:0} degC, {(heat.HeatersOff ? "heaters off: a cold result, valid as it is only for a cold bed" : "heated")}");
}
