using ProbeRunner.Metrology.Budgets;

namespace ProbeRunner.Metrology.MonteCarlo;

/// <summary>Whether a first-order budget may stand in for the propagation of distributions (JCGM 101:2008, 8.1).</summary>
/// <param name="LowerDifference">Distance of the lower interval ends, in the result's unit.</param>
/// <param name="UpperDifference">Distance of the upper interval ends.</param>
/// <param name="Tolerance">What either may be: half a unit of the last significant digit of the budget's uncertainty.</param>
public sealed record FrameworkValidation(double LowerDifference, double UpperDifference, double Tolerance)
{
    /// <summary>True when both ends agree within the tolerance.</summary>
    public bool Agrees => LowerDifference <= Tolerance && UpperDifference <= Tolerance;

    /// <summary>Compares the budget's symmetric interval with the draws' shortest one; both must state the same coverage probability.</summary>
    /// <param name="budget">First-order result.</param>
    /// <param name="draws">Monte Carlo result of the same model.</param>
    /// <param name="significantDigits">Digits of the uncertainty that matter, usually 1 or 2.</param>
    public static FrameworkValidation Compare(BudgetResult budget, MonteCarloResult draws, int significantDigits)
    {
        ArgumentNullException.ThrowIfNull(budget);
        ArgumentNullException.ThrowIfNull(draws);
        ArgumentOutOfRangeException.ThrowIfNotEqual(draws.CoverageProbability, budget.CoverageProbability);
        return new FrameworkValidation(
            Math.Abs(budget.Value - budget.Expanded - draws.Shortest.Lower),
            Math.Abs(budget.Value + budget.Expanded - draws.Shortest.Upper),
            Stability.ToleranceOf(budget.Combined, significantDigits));
    }
}
