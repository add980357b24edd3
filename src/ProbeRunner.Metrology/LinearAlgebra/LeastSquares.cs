namespace ProbeRunner.Metrology.LinearAlgebra;

/// <summary>
/// Linear least squares by Householder reflections (Golub and Van Loan, Matrix Computations, section 5.3),
/// with the unscaled covariance of the coefficients.
/// </summary>
internal sealed class LeastSquares
{
    private const double RankTolerance = 1e-11;

    private LeastSquares(double[] coefficients, double[,] unscaledCovariance, double[] residuals)
    {
        Coefficients = coefficients;
        UnscaledCovariance = unscaledCovariance;
        Residuals = residuals;
    }

    /// <summary>The coefficients, one a column.</summary>
    public double[] Coefficients { get; }

    /// <summary>Inverse of the normal matrix; times the residual variance it is the covariance.</summary>
    public double[,] UnscaledCovariance { get; }

    /// <summary>Observed minus fitted.</summary>
    public double[] Residuals { get; }

    /// <summary>Solves, or gives null when the columns are linearly dependent.</summary>
    /// <param name="columns">Design columns, each as long as <paramref name="observed"/>.</param>
    /// <param name="observed">Right-hand side.</param>
    /// <param name="weights">Weights, all greater or equal zero; null for equal ones.</param>
    public static LeastSquares? Solve(double[][] columns, double[] observed, double[]? weights = null)
    {
        int rows = observed.Length, count = columns.Length;
        if (rows < count)
        {
            return null;
        }

        double[][] work = [.. columns.Select(column => Weighted(column, weights)), Weighted(observed, weights)];
        double[] lengths = [.. work.Take(count).Select(column => Math.Sqrt(RowOperations.Dot(column, column)))];
        for (int k = 0; k < count; k++)
        {
            if (!Reflect(work, k, RankTolerance * lengths[k]))
            {
                return null;
            }
        }

        double[] coefficients = BackSubstitute(work, count, work[count]);
        double[] residuals = new double[rows];
        for (int i = 0; i < rows; i++)
        {
            double fitted = 0;
            for (int j = 0; j < count; j++)
            {
                fitted += columns[j][i] * coefficients[j];
            }

            residuals[i] = observed[i] - fitted;
        }

        return new LeastSquares(coefficients, Covariance(work, count), residuals);
    }

    private static double[] Weighted(double[] column, double[]? weights)
    {
        double[] copy = [.. column];
        for (int i = 0; weights is not null && i < copy.Length; i++)
        {
            copy[i] *= Math.Sqrt(weights[i]);
        }

        return copy;
    }

    /// <summary>Turns column k into R's by one reflection, applied to the columns after it; false when nothing of the column is left.</summary>
    private static bool Reflect(double[][] work, int k, double smallest)
    {
        Span<double> pivot = work[k].AsSpan(k);
        double length = Math.Sqrt(RowOperations.Dot(pivot, pivot));
        if (!(length > smallest))
        {
            return false;
        }

        double diagonal = pivot[0] > 0 ? -length : length;
        double[] normal = pivot.ToArray();
        normal[0] -= diagonal;
        double half = RowOperations.Dot(normal, normal) / 2;
        for (int j = k + 1; j < work.Length; j++)
        {
            Span<double> column = work[j].AsSpan(k);
            RowOperations.AddScaled(column, normal, -RowOperations.Dot(normal, column) / half);
        }

        pivot.Clear();
        pivot[0] = diagonal;
        return true;
    }

    private static double[] BackSubstitute(double[][] work, int count, double[] right)
    {
        double[] solution = new double[count];
        for (int i = count - 1; i >= 0; i--)
        {
            double sum = right[i];
            for (int j = i + 1; j < count; j++)
            {
                sum -= work[j][i] * solution[j];
            }

            solution[i] = sum / work[i][i];
        }

        return solution;
    }

    private static double[,] Covariance(double[][] work, int count)
    {
        double[][] inverse = [.. Enumerable.Range(0, count).Select(k =>
        {
            double[] unit = new double[count];
            unit[k] = 1;
            return BackSubstitute(work, count, unit);
        })];
        double[,] covariance = new double[count, count];
        for (int i = 0; i < count; i++)
        {
            for (int j = 0; j < count; j++)
            {
                for (int k = 0; k < count; k++)
                {
                    covariance[i, j] += inverse[k][i] * inverse[k][j];
                }
            }
        }

        return covariance;
    }
}
