using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Budgets;

/// <summary>The law of propagation of uncertainty for a model that is linear in its contributions (JCGM 100:2008, 5.1 and 5.2).</summary>
public static class UncertaintyBudget
{
    /// <summary>The coverage probability used unless another is asked for.</summary>
    public const double UsualCoverage = 0.95;

    /// <summary>
    /// Evaluates a budget whose result is the sum of sensitivity times estimate. For any other model use
    /// <see cref="ModelBudget"/>, which finds value and sensitivities from the model itself.
    /// </summary>
    /// <param name="contributions">At least one; names unique.</param>
    /// <param name="correlations">Coefficients of correlated pairs; null or empty for independent contributions.</param>
    /// <param name="coverageProbability">For the expanded uncertainty; above 0, below 1.</param>
    public static Answer<BudgetResult> Evaluate(
        IReadOnlyList<Contribution> contributions,
        IReadOnlyList<Correlation>? correlations = null,
        double coverageProbability = UsualCoverage)
    {
        ArgumentNullException.ThrowIfNull(contributions);
        return Evaluate(contributions, correlations, coverageProbability, contributions.Sum(part => part.Sensitivity * part.Estimate));
    }

    /// <summary>As the public one, with the value that the model gave.</summary>
    internal static Answer<BudgetResult> Evaluate(
        IReadOnlyList<Contribution> contributions,
        IReadOnlyList<Correlation>? correlations,
        double coverageProbability,
        double value)
    {
        if (contributions.Count == 0)
        {
            return Reason.TooFew("An uncertainty budget", 1, 0);
        }

        if (contributions.Select(part => part.Check()).FirstOrDefault(wrong => wrong is not null) is { } reason)
        {
            return reason;
        }

        return CorrelatedPairs.Of(contributions, correlations ?? [])
            .Then(pairs => Combine(contributions, pairs, coverageProbability, value));
    }

    private static Answer<BudgetResult> Combine(
        IReadOnlyList<Contribution> contributions, IReadOnlyList<CorrelatedPair> pairs, double coverageProbability, double value)
    {
        double[] parts = Parts(contributions, pairs);
        double variance = WithoutCancellation(parts.Sum(), contributions);
        double combined = Math.Sqrt(variance);
        if (!double.IsFinite(value) || !double.IsFinite(combined))
        {
            return new Reason(RefusalKind.NotFinite, "The budget's numbers are too large: the result is not a finite number.");
        }

        double? freedom = EffectiveFreedom.Of(contributions, pairs, parts, variance);
        ContributionShare[] shares = [.. contributions.Select((part, i) => new ContributionShare(
            part.Name,
            Math.Abs(part.Sensitivity * part.StandardUncertainty),
            variance > 0 ? parts[i] / variance : 0))];
        return CoverageFactor.For(coverageProbability, freedom).Then<BudgetResult>(factor =>
            new BudgetResult(value, combined, freedom, coverageProbability, factor, factor * combined, shares));
    }

    /// <summary>Each contribution's part of the variance: its own square, and of every correlation term (which counts twice) one half.</summary>
    private static double[] Parts(IReadOnlyList<Contribution> contributions, IReadOnlyList<CorrelatedPair> pairs)
    {
        double[] effects = [.. contributions.Select(part => part.Sensitivity * part.StandardUncertainty)];
        double[] parts = [.. effects.Select(effect => effect * effect)];
        foreach (CorrelatedPair pair in pairs)
        {
            double covariance = effects[pair.First] * effects[pair.Second] * pair.Coefficient;
            parts[pair.First] += covariance;
            parts[pair.Second] += covariance;
        }

        return parts;
    }

    // Correlated contributions may cancel; what rounding then leaves is no variance.
    private static double WithoutCancellation(double variance, IReadOnlyList<Contribution> contributions)
    {
        double scale = contributions.Sum(part => Math.Pow(part.Sensitivity * part.StandardUncertainty, 2));
        return variance > 1e-14 * scale ? variance : 0;
    }
}
