using ProbeRunner.Metrology.Budgets;
using ProbeRunner.Metrology.Conformity;

namespace ProbeRunner.Metrology.Gaps;

/// <summary>What the first layer will see at one place.</summary>
/// <param name="XMm">Bed X of the place.</param>
/// <param name="YMm">Bed Y of the place.</param>
/// <param name="ExpectedGapMm">Set first-layer height with every expected effect added.</param>
/// <param name="StandardUncertaintyMm">Standard uncertainty of the gap.</param>
/// <param name="InsideWindow">Probability that the gap lies within the adhesion window, or below or above it.</param>
/// <param name="Terms">What each effect does here.</param>
/// <param name="Dominating">
/// The effect with the largest mean square, expected change squared plus variance: the one that moves the gap most, known or not.
/// </param>
/// <param name="Budget">The uncertainty budget of the gap.</param>
public sealed record GapAssessment(
    double XMm,
    double YMm,
    double ExpectedGapMm,
    double StandardUncertaintyMm,
    ConformityProbability InsideWindow,
    IReadOnlyList<GapTerm> Terms,
    GapTerm Dominating,
    BudgetResult Budget);
