using ProbeRunner.Machine.Heat;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>What a capture was taken under.</summary>
/// <param name="Heat">Temperatures at its beginning.</param>
/// <param name="Soaked">For how long the bed had been at its temperature.</param>
/// <param name="Plate">The plate on the bed; empty when nobody said.</param>
internal sealed record CaptureConditions(Temperatures Heat, TimeSpan Soaked, string Plate)
{
    /// <summary>In words.</summary>
    public string Described => Conditions.Of(Heat, Soaked, Plate);

    /// <summary>As numbers.</summary>
    public TakenUnder TakenUnder => new(Heat.BedCelsius, Heat.NozzleCelsius, Heat.BedTargetCelsius, Plate) { SoakMinutes = Soaked.TotalMinutes };
}
