using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Steps.Screws;

/// <summary>Parameters of the screws step.</summary>
/// <param name="ToleranceMm">How far the bed may stand above or below its mean at a screw, mm, 0.005 to 0.2.</param>
/// <param name="MostRounds">Rounds of turning after the trial turn, 1 to 8.</param>
/// <param name="Touches">Touches at each place, 1 to 5.</param>
/// <param name="SpringTravelMm">How far a spring can be turned from where it was found, mm, 0.2 to 20; 2 is common practice, no source.</param>
internal sealed record ScrewParameters(double ToleranceMm, int MostRounds, int Touches, double SpringTravelMm)
{
    /// <summary>Keys: <c>tolerance_mm</c>, <c>most_rounds</c>, <c>touches</c>, <c>spring_travel_mm</c>.</summary>
    public static ScrewParameters Read(TomlSection section) => new(
        section.Number("tolerance_mm", 0.005, 0.2, 0.02),
        section.Whole("most_rounds", 1, 8, 3),
        section.Whole("touches", 1, 5, 2),
        section.Number("spring_travel_mm", 0.2, 20, 2));
}
