using ProbeRunner.Metrology.LinearAlgebra;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>
/// A symmetric matrix K and a vector y in the coordinates in which K is tridiagonal (Golub and Van Loan, section 8.3.1).
/// There, the likelihood of y under the covariance K + ratio I costs only as many steps as y has numbers, whatever the ratio.
/// </summary>
internal sealed class Tridiagonal : IReducedLikelihood
{
    private readonly double[] diagonal;
    private readonly double[] beside;
    private readonly double[] values;

    private Tridiagonal(double[] diagonal, double[] beside, double[] values) =>
        (this.diagonal, this.beside, this.values) = (diagonal, beside, values);

    /// <summary>Reduces; both arguments are overwritten.</summary>
    /// <param name="lower">Lower triangle, row by row; only the leading block of the size of <paramref name="vector"/> is used.</param>
    /// <param name="vector">The vector that is carried along.</param>
    public static Tridiagonal Reduce(double[][] lower, Span<double> vector)
    {
        int size = vector.Length;
        double[] diagonal = new double[size], beside = new double[size], scratch = new double[size];
        for (int i = size - 1; i >= 1; i--)
        {
            diagonal[i] = lower[i][i];
            Span<double> normal = lower[i].AsSpan(0, i);
            (beside[i], double factor) = Reflection.Normal(normal);
            if (factor > 0)
            {
                Reflection.ApplyToBothSides(lower, normal, factor, scratch);
                Reflection.Apply(vector, normal, factor);
            }
        }

        if (size > 0)
        {
            diagonal[0] = lower[0][0];
        }

        return new Tridiagonal(diagonal, beside, vector.ToArray());
    }

    public int Freedom => values.Length;

    public (double LogDeterminant, double Quadratic) At(double ratio)
    {
        double logarithms = 0, product = 1, quadratic = 0, pivot = 1, carried = 0;
        for (int i = 0; i < diagonal.Length; i++)
        {
            double off = i == 0 ? 0 : beside[i] / pivot;
            pivot = Math.Max(diagonal[i] + ratio - (off * beside[i]), ratio * 1e-6);
            carried = values[i] - (off * carried);
            quadratic += carried * carried / pivot;
            product *= pivot;
            if ((i & 15) == 15)
            {
                logarithms += Math.Log(product);
                product = 1;
            }
        }

        return (logarithms + Math.Log(product), quadratic);
    }
}
