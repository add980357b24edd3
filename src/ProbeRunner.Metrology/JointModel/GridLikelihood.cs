using ProbeRunner.Metrology.LinearAlgebra;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>
/// The likelihood of a full grid: with the correlation a product of one along x and one along y the covariance is diagonal in the products of their
/// eigenvectors (Saatci, Scalable Inference for Structured Gaussian Process Models, 2011, chapter 5). The trend's six terms are products too.
/// </summary>
internal sealed class GridLikelihood : IReducedLikelihood
{
    private const int Terms = 6;

    /// <summary>Trend term k is function X[k] along x times function Y[k] along y: 1, u, v, u v, u^2 - 1/3, v^2 - 1/3.</summary>
    private static readonly int[] X = [0, 1, 0, 1, 2, 0];
    private static readonly int[] Y = [0, 0, 1, 1, 0, 2];

    public GridLikelihood(FullGrid grid, Axis alongX, Axis alongY)
    {
        (AlongX, AlongY) = (alongX, alongY);
        double[][] rows = [.. Enumerable.Range(0, grid.Ys.Length).Select(row => grid.Z.AsSpan(row * grid.Xs.Length, grid.Xs.Length).ToArray())];
        Heights = [.. Products.Times(alongY.Vectors, Products.TimesTransposed(rows, alongX.Vectors)).SelectMany(row => row)];
        Eigenvalues = [.. alongY.Values.SelectMany(m => alongX.Values.Select(l => l * m))];
        Trend = [.. Enumerable.Range(0, Terms).Select(k => alongY.Trend[Y[k]].SelectMany(b => alongX.Trend[X[k]].Select(a => a * b)).ToArray())];
    }

    public Axis AlongX { get; }

    public Axis AlongY { get; }

    /// <summary>The readings in eigenvector coordinates.</summary>
    public double[] Heights { get; }

    /// <summary>The trend's terms in eigenvector coordinates.</summary>
    public double[][] Trend { get; }

    /// <summary>Eigenvalues of the correlation matrix.</summary>
    public double[] Eigenvalues { get; }

    public int Freedom => Heights.Length - Terms;

    public (double LogDeterminant, double Quadratic) At(double ratio)
    {
        double[] inverse = new double[Heights.Length];
        double logarithms = 0, product = 1, quadratic = 0;
        for (int i = 0; i < inverse.Length; i++)
        {
            double pivot = Eigenvalues[i] + ratio;
            product *= pivot;
            inverse[i] = 1 / pivot;
            quadratic += Heights[i] * Heights[i] / pivot;
            if ((i & 15) == 15)
            {
                logarithms += Math.Log(product);
                product = 1;
            }
        }

        (Cholesky information, double[] moments) = Information(inverse);
        information.SolveLower(moments);
        return (logarithms + Math.Log(product) + information.LogDeterminant, quadratic - RowOperations.Dot(moments, moments));
    }

    /// <summary>The trend's normal equations under the weights: its matrix, factored, and its right-hand side.</summary>
    public (Cholesky Matrix, double[] Moments) Information(double[] weights)
    {
        double[] weighted = new double[weights.Length], moments = new double[Terms];
        double[][] matrix = [.. Enumerable.Range(0, Terms).Select(k => new double[k + 1])];
        for (int k = 0; k < Terms; k++)
        {
            RowOperations.Multiply(weighted, Trend[k], weights);
            moments[k] = RowOperations.Dot(weighted, Heights);
            for (int other = 0; other <= k; other++)
            {
                matrix[k][other] = RowOperations.Dot(weighted, Trend[other]);
            }
        }

        return (Cholesky.Factor(matrix) ?? throw new InvalidOperationException("Six columns and rows determine the trend."), moments);
    }

    /// <summary>Trend term k at places, as the functions along both axes.</summary>
    public static double TrendAt(int k, double u, double v) => Function(X[k], u) * Function(Y[k], v);


    private static double Function(int which, double w) => which switch { 0 => 1, 1 => w, _ => (w * w) - (1.0 / 3) };
}
