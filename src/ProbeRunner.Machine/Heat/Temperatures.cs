namespace ProbeRunner.Machine.Heat;

/// <summary>One temperature report, degC; targets of 0 mean off.</summary>
/// <param name="At">When the report came.</param>
public readonly record struct Temperatures(
    double NozzleCelsius, double NozzleTargetCelsius, double BedCelsius, double BedTargetCelsius, DateTimeOffset At)
{
    /// <summary>Whether both heaters are switched off, as the controller says.</summary>
    public bool HeatersOff => NozzleTargetCelsius == 0 && BedTargetCelsius == 0;
}
