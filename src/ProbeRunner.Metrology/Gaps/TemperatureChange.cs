namespace ProbeRunner.Metrology.Gaps;

/// <summary>
/// The machine's parts have other temperatures while printing than they had while the bed was probed, and the gap moves with them.
/// First order in both: u^2 = (difference x u(coefficient))^2 + (coefficient x u(difference))^2 (JCGM 100:2008, 5.1).
/// </summary>
/// <param name="CoefficientMmPerK">Change of the gap for each kelvin that printing is warmer; above 0 widens it.</param>
/// <param name="CoefficientStandardUncertainty">Of the coefficient, mm per K.</param>
/// <param name="DifferenceK">Printing less probing, K.</param>
/// <param name="DifferenceStandardUncertaintyK">Of the difference, K.</param>
public sealed record TemperatureChange(
    double CoefficientMmPerK,
    double CoefficientStandardUncertainty,
    double DifferenceK,
    double DifferenceStandardUncertaintyK) : IGapEffect
{
    /// <inheritdoc/>
    public GapTerm At(double xMm, double yMm) => new(
        "temperature",
        CoefficientMmPerK * DifferenceK,
        double.Hypot(DifferenceK * CoefficientStandardUncertainty, CoefficientMmPerK * DifferenceStandardUncertaintyK));
}
