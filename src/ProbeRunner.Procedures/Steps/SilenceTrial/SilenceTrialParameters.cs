using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Steps.SilenceTrial;

/// <summary>Parameters of the silence trial.</summary>
/// <param name="Silence">How long nothing is said, 10 s to 30 minutes; longer than the controller's own limit.</param>
/// <param name="NozzleCelsius">The nozzle's target, 35 to 60: warm, harmless.</param>
/// <param name="BedCelsius">The bed's target, 30 to 45.</param>
internal sealed record SilenceTrialParameters(TimeSpan Silence, double NozzleCelsius, double BedCelsius)
{
    /// <summary>Keys: <c>silence_seconds</c>, <c>nozzle_celsius</c>, <c>bed_celsius</c>.</summary>
    public static SilenceTrialParameters Read(TomlSection section) => new(
        TimeSpan.FromSeconds(section.Number("silence_seconds", 10, 1800, 120)),
        section.Number("nozzle_celsius", 35, 60, 45),
        section.Number("bed_celsius", 30, 45, 35));
}
