namespace ProbeRunner.Metrology.Flatness;

/// <summary>Gaussian elimination with partial pivoting for a handful of equations.</summary>
internal static class Elimination
{
    /// <summary>Solves <paramref name="size"/> equations given row by row with the right-hand side last in each row; null when they are singular.</summary>
    /// <remarks>The equations are overwritten.</remarks>
    public static double[]? Solve(Span<double> equations, int size)
    {
        int stride = size + 1;
        for (int k = 0; k < size; k++)
        {
            int pivot = k;
            for (int i = k + 1; i < size; i++)
            {
                pivot = Math.Abs(equations[(i * stride) + k]) > Math.Abs(equations[(pivot * stride) + k]) ? i : pivot;
            }

            if (!(Math.Abs(equations[(pivot * stride) + k]) > 1e-14))
            {
                return null;
            }

            for (int j = 0; j < stride && pivot != k; j++)
            {
                (equations[(k * stride) + j], equations[(pivot * stride) + j]) = (equations[(pivot * stride) + j], equations[(k * stride) + j]);
            }

            for (int i = k + 1; i < size; i++)
            {
                double factor = equations[(i * stride) + k] / equations[(k * stride) + k];
                for (int j = k; j < stride; j++)
                {
                    equations[(i * stride) + j] -= factor * equations[(k * stride) + j];
                }
            }
        }

        double[] solution = new double[size];
        for (int i = size - 1; i >= 0; i--)
        {
            double sum = equations[(i * stride) + size];
            for (int j = i + 1; j < size; j++)
            {
                sum -= equations[(i * stride) + j] * solution[j];
            }

            solution[i] = sum / equations[(i * stride) + i];
        }

        return solution;
    }
}
