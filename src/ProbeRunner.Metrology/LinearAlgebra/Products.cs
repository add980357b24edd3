namespace ProbeRunner.Metrology.LinearAlgebra;

/// <summary>Products of matrices kept as arrays of rows.</summary>
internal static class Products
{
    /// <summary>A times B-transposed.</summary>
    public static double[][] TimesTransposed(double[][] a, double[][] b)
    {
        double[][] product = new double[a.Length][];
        for (int i = 0; i < a.Length; i++)
        {
            double[] row = new double[b.Length];
            for (int j = 0; j < b.Length; j++)
            {
                row[j] = RowOperations.Dot(a[i], b[j]);
            }

            product[i] = row;
        }

        return product;
    }

    /// <summary>A times B.</summary>
    public static double[][] Times(double[][] a, double[][] b)
    {
        double[][] product = new double[a.Length][];
        for (int i = 0; i < a.Length; i++)
        {
            double[] row = new double[b[0].Length];
            for (int k = 0; k < b.Length; k++)
            {
                RowOperations.AddScaled(row, b[k], a[i][k]);
            }

            product[i] = row;
        }

        return product;
    }

    /// <summary>Rows for columns.</summary>
    public static double[][] Transposed(double[][] a) =>
        [.. Enumerable.Range(0, a[0].Length).Select(j => a.Select(row => row[j]).ToArray())];

    /// <summary>Every number squared.</summary>
    public static double[][] Squared(double[][] a) => [.. a.Select(row => row.Select(value => value * value).ToArray())];
}
