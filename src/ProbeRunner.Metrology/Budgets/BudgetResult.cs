namespace ProbeRunner.Metrology.Budgets;

/// <summary>What a budget comes to (JCGM 100:2008, 5 to 7).</summary>
/// <param name="Value">The result: its unit is that of sensitivity times estimate.</param>
/// <param name="Combined">Combined standard uncertainty, unrounded.</param>
/// <param name="EffectiveDegreesOfFreedom">Welch-Satterthwaite, not truncated; null when unlimited.</param>
/// <param name="CoverageProbability">The probability that <paramref name="Expanded"/> is stated for.</param>
/// <param name="CoverageFactor">t quantile at the effective degrees of freedom truncated to a whole number (JCGM 100:2008, G.4.1).</param>
/// <param name="Expanded">Expanded uncertainty: factor times combined.</param>
/// <param name="Shares">Each contribution's part of the combined variance, in the order of the budget.</param>
public sealed record BudgetResult(
    double Value,
    double Combined,
    double? EffectiveDegreesOfFreedom,
    double CoverageProbability,
    double CoverageFactor,
    double Expanded,
    IReadOnlyList<ContributionShare> Shares);

/// <summary>How much of the combined variance one contribution accounts for.</summary>
/// <param name="Name">The contribution.</param>
/// <param name="Uncertainty">Its standard uncertainty times the absolute sensitivity, in the result's unit.</param>
/// <param name="Share">
/// Its part of the combined variance, its correlations split evenly between partners; the shares add up to 1.
/// Below 0 when its correlations take away more than it adds; 0 for all when the combined uncertainty is 0.
/// </param>
public sealed record ContributionShare(string Name, double Uncertainty, double Share);
