namespace ProbeRunner.Procedures.Conclusions;

/// <summary>Under what conditions something was measured, as numbers that can be compared.</summary>
/// <param name="BedCelsius">The bed's temperature at the beginning, degC.</param>
/// <param name="NozzleCelsius">The nozzle's, degC.</param>
/// <param name="BedTargetCelsius">The bed's target; 0 is off.</param>
/// <param name="Plate">The plate that lay on the bed, by the person's name for it; empty when nobody said.</param>
public sealed record TakenUnder(double BedCelsius, double NozzleCelsius, double BedTargetCelsius, string Plate = "")
{
    /// <summary>How long the bed had been at its temperature before the first touch, minutes; 0 for a cold bed.</summary>
    public double SoakMinutes { get; init; }

    /// <summary>How far the bed's temperature may be from another and count as the same, K.</summary>
    public const double SameKelvin = 8;

    /// <summary>Whether what was measured under the one can be set beside what was measured under the other.</summary>
    public bool IsLike(TakenUnder other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return Math.Abs(BedCelsius - other.BedCelsius) <= SameKelvin && !IsOtherPlate(Plate, other.Plate);
    }

    /// <summary>Whether two names say that different plates lay on the bed; a name that nobody gave says nothing.</summary>
    public static bool IsOtherPlate(string one, string other)
    {
        ArgumentNullException.ThrowIfNull(one);
        ArgumentNullException.ThrowIfNull(other);
        return one.Length > 0 && other.Length > 0 && !one.Equals(other, StringComparison.OrdinalIgnoreCase);
    }

    /// <summary>In what the conditions differ from printing's, in a sentence; null when they are the same.</summary>
    /// <param name="printingBedCelsius">The bed's temperature while printing.</param>
    public string? WhyUnlikePrinting(double printingBedCelsius) => Math.Abs(BedCelsius - printingBedCelsius) <= SameKelvin
        ? null
        : FormattableString.Invariant($"The bed was at {BedCelsius:0} degC and prints at {printingBedCelsius:0} degC; a plate takes another shape when it warms.");
}
