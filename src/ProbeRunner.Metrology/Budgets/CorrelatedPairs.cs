using MathNet.Numerics.LinearAlgebra;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Budgets;

/// <summary>Two contributions by their places in the budget, and how their errors go together.</summary>
internal readonly record struct CorrelatedPair(int First, int Second, double Coefficient);

/// <summary>The correlated pairs of one budget, checked to be possible together.</summary>
internal static class CorrelatedPairs
{
    /// <summary>Most contributions that may take part in correlations: the check of their matrix grows with the cube.</summary>
    internal const int MostCorrelated = 300;

    // Rounding of coefficients quoted with a few decimals may push an eigenvalue of a singular matrix just below zero.
    private const double SmallestEigenvalue = -1e-6;

    internal static Answer<IReadOnlyList<CorrelatedPair>> Of(IReadOnlyList<Contribution> contributions, IReadOnlyList<Correlation> correlations)
    {
        var places = new Dictionary<string, int>(StringComparer.Ordinal);
        for (int i = 0; i < contributions.Count; i++)
        {
            if (!places.TryAdd(contributions[i].Name, i))
            {
                return Reason.OutOfRange($"Two contributions are called \"{contributions[i].Name}\"; each name may stand once.");
            }
        }

        var pairs = new Dictionary<(int, int), CorrelatedPair>();
        foreach (Correlation correlation in correlations)
        {
            if (!places.TryGetValue(correlation.First, out int first) || !places.TryGetValue(correlation.Second, out int second))
            {
                string missing = places.ContainsKey(correlation.First) ? correlation.Second : correlation.First;
                return Reason.OutOfRange($"A correlation names \"{missing}\", which is no contribution of this budget.");
            }

            if (!(Math.Abs(correlation.Coefficient) <= 1))
            {
                return Reason.OutOfRange($"The correlation of \"{correlation.First}\" with \"{correlation.Second}\" must lie within -1 and 1.");
            }

            var pair = new CorrelatedPair(Math.Min(first, second), Math.Max(first, second), correlation.Coefficient);
            if (first == second || !pairs.TryAdd((pair.First, pair.Second), pair))
            {
                return Reason.OutOfRange(
                    $"The correlation of \"{correlation.First}\" with \"{correlation.Second}\" must name two different contributions, once.");
            }
        }

        CorrelatedPair[] all = [.. pairs.Values.Where(pair => pair.Coefficient != 0)];
        return CheckTogether(all) is { } wrong ? wrong : all;
    }

    private static Reason? CheckTogether(CorrelatedPair[] pairs)
    {
        int[] involved = [.. pairs.SelectMany(pair => new[] { pair.First, pair.Second }).Distinct()];
        if (involved.Length is 0 or > MostCorrelated)
        {
            return involved.Length == 0
                ? null
                : Reason.OutOfRange(FormattableString.Invariant($"At most {MostCorrelated} contributions of a budget may be correlated."));
        }

        Dictionary<int, int> rows = involved.Index().ToDictionary(pair => pair.Item, pair => pair.Index);
        Matrix<double> matrix = Matrix<double>.Build.DenseIdentity(involved.Length);
        foreach (CorrelatedPair pair in pairs)
        {
            (int first, int second) = (rows[pair.First], rows[pair.Second]);
            matrix[first, second] = matrix[second, first] = pair.Coefficient;
        }

        return matrix.Evd(Symmetricity.Symmetric).EigenValues.Any(value => value.Real < SmallestEigenvalue)
            ? Reason.Assumption("These correlations can't all hold at once: their matrix is not positive semi-definite.")
            : null;
    }
}
