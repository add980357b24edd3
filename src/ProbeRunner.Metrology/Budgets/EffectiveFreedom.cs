namespace ProbeRunner.Metrology.Budgets;

/// <summary>
/// Effective degrees of freedom after Welch and Satterthwaite (JCGM 100:2008, G.4.1). The formula needs independent components, so
/// contributions that are correlated with one another are first taken together as one component, whose degrees of freedom are the
/// members' common ones (R. Willink, Metrologia 44 (2007) 340, from memory) or, when they differ, the fewest: a cautious choice, no source.
/// </summary>
internal static class EffectiveFreedom
{
    /// <summary>The effective degrees of freedom; null when unlimited.</summary>
    internal static double? Of(IReadOnlyList<Contribution> contributions, CorrelationMatrix correlations, double variance)
    {
        double denominator = 0;
        foreach (List<int> group in Groups(contributions.Count, correlations))
        {
            double? freedom = group.Min(i => contributions[i].DegreesOfFreedom);
            if (freedom is null)
            {
                continue;
            }

            double groupVariance = group.Sum(i => group.Sum(j => Covariance(contributions, correlations, i, j)));
            // As a fraction of the whole, so that neither power overflows nor vanishes.
            double fraction = variance > 0 ? groupVariance / variance : 0;
            denominator += fraction * fraction / freedom.Value;
        }

        double effective = 1 / denominator;
        return double.IsFinite(effective) ? effective : null;
    }

    /// <summary>The part of the result's variance that two contributions make together.</summary>
    internal static double Covariance(IReadOnlyList<Contribution> contributions, CorrelationMatrix correlations, int first, int second)
    {
        Contribution one = contributions[first];
        Contribution other = contributions[second];
        return one.Sensitivity * one.StandardUncertainty * other.Sensitivity * other.StandardUncertainty * correlations[first, second];
    }

    private static IEnumerable<List<int>> Groups(int count, CorrelationMatrix correlations)
    {
        var seen = new bool[count];
        for (int start = 0; start < count; start++)
        {
            if (seen[start])
            {
                continue;
            }

            var group = new List<int> { start };
            seen[start] = true;
            for (int next = 0; next < group.Count; next++)
            {
                for (int other = 0; other < count; other++)
                {
                    if (!seen[other] && correlations[group[next], other] != 0)
                    {
                        seen[other] = true;
                        group.Add(other);
                    }
                }
            }

            yield return group;
        }
    }
}
