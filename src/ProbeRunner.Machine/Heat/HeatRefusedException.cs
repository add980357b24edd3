namespace ProbeRunner.Machine.Heat;

/// <summary>A heater target outside what the machine's profile allows; nothing was sent.</summary>
/// <param name="heater">"nozzle" or "bed".</param>
/// <param name="celsius">What was asked, degC.</param>
/// <param name="capCelsius">The profile's cap, degC.</param>
public sealed class HeatRefusedException(string heater, double celsius, double capCelsius) : InvalidOperationException(
    FormattableString.Invariant($"A {heater} target of {celsius:0.#} degC is outside 0 to {capCelsius:0.#} degC, what the machine's profile allows. Nothing was sent."))
{
    /// <summary>"nozzle" or "bed".</summary>
    public string Heater { get; } = heater;

    /// <summary>What was asked, degC.</summary>
    public double Celsius { get; } = celsius;

    /// <summary>The profile's cap, degC.</summary>
    public double CapCelsius { get; } = capCelsius;
}
