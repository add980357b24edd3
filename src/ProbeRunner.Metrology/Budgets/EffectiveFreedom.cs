namespace ProbeRunner.Metrology.Budgets;

/// <summary>
/// Effective degrees of freedom after Welch and Satterthwaite (JCGM 100:2008, G.4.1). The formula needs independent components, so
/// contributions that are correlated with one another are first taken together as one component, whose degrees of freedom are the
/// members' common ones (R. Willink, Metrologia 44 (2007) 340, from memory) or, when they differ, the fewest: a cautious choice, no source.
/// </summary>
internal static class EffectiveFreedom
{
    /// <summary>The effective degrees of freedom; null when unlimited.</summary>
    /// <param name="contributions">Of the budget.</param>
    /// <param name="pairs">The correlated ones.</param>
    /// <param name="parts">Each contribution's part of the variance, its correlations split evenly between partners.</param>
    /// <param name="variance">Their sum, or 0.</param>
    internal static double? Of(
        IReadOnlyList<Contribution> contributions, IReadOnlyList<CorrelatedPair> pairs, double[] parts, double variance)
    {
        double denominator = 0;
        int[] components = ComponentOfEach(contributions.Count, pairs);
        foreach (IGrouping<int, int> members in Enumerable.Range(0, contributions.Count).GroupBy(i => components[i]))
        {
            if (variance > 0 && members.Min(i => contributions[i].DegreesOfFreedom) is { } freedom)
            {
                // As a fraction of the whole, so that no power overflows or vanishes.
                double fraction = members.Sum(i => parts[i]) / variance;
                denominator += fraction * fraction / freedom;
            }
        }

        double effective = 1 / denominator;
        return double.IsFinite(effective) ? effective : null;
    }

    // Joins partners until all that hang together carry the same number.
    private static int[] ComponentOfEach(int count, IReadOnlyList<CorrelatedPair> pairs)
    {
        int[] component = [.. Enumerable.Range(0, count)];
        foreach (CorrelatedPair pair in pairs)
        {
            (int kept, int joined) = (component[pair.First], component[pair.Second]);
            for (int i = 0; kept != joined && i < count; i++)
            {
                component[i] = component[i] == joined ? kept : component[i];
            }
        }

        return component;
    }
}
