using MathNet.Numerics.LinearAlgebra;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Budgets;

/// <summary>The correlation coefficients of all pairs of contributions of one budget, checked to be possible together.</summary>
internal sealed class CorrelationMatrix
{
    // Rounding of coefficients quoted with a few decimals may push an eigenvalue of a singular matrix just below zero.
    private const double SmallestEigenvalue = -1e-6;

    private readonly Matrix<double> coefficients;

    private CorrelationMatrix(Matrix<double> coefficients) => this.coefficients = coefficients;

    internal double this[int first, int second] => coefficients[first, second];

    internal static Answer<CorrelationMatrix> Of(IReadOnlyList<Contribution> contributions, IReadOnlyList<Correlation> correlations)
    {
        var places = new Dictionary<string, int>(StringComparer.Ordinal);
        for (int i = 0; i < contributions.Count; i++)
        {
            if (!places.TryAdd(contributions[i].Name, i))
            {
                return Reason.OutOfRange($"Two contributions are called \"{contributions[i].Name}\"; each name may stand once.");
            }
        }

        Matrix<double> matrix = Matrix<double>.Build.DenseIdentity(contributions.Count);
        foreach (Correlation correlation in correlations)
        {
            if (!places.TryGetValue(correlation.First, out int first) || !places.TryGetValue(correlation.Second, out int second))
            {
                string missing = places.ContainsKey(correlation.First) ? correlation.Second : correlation.First;
                return Reason.OutOfRange($"A correlation names \"{missing}\", which is no contribution of this budget.");
            }

            if (first == second || matrix[first, second] != 0)
            {
                return Reason.OutOfRange($"The correlation of \"{correlation.First}\" with \"{correlation.Second}\" must name two different contributions, once.");
            }

            if (!(Math.Abs(correlation.Coefficient) <= 1))
            {
                return Reason.OutOfRange($"The correlation of \"{correlation.First}\" with \"{correlation.Second}\" must lie within -1 and 1.");
            }

            matrix[first, second] = matrix[second, first] = correlation.Coefficient;
        }

        return correlations.Count > 0 && matrix.Evd(Symmetricity.Symmetric).EigenValues.Any(value => value.Real < SmallestEigenvalue)
            ? Reason.Assumption("These correlations can't all hold at once: their matrix is not positive semi-definite.")
            : new CorrelationMatrix(matrix);
    }
}
