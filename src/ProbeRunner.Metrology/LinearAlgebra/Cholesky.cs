using System.Numerics;
using System.Runtime.InteropServices;

namespace ProbeRunner.Metrology.LinearAlgebra;

/// <summary>
/// Lower triangular factor of a symmetric positive definite matrix, L L-transposed, computed in blocks of columns that stay in the cache
/// (Golub and Van Loan, Matrix Computations, section 4.2.6).
/// </summary>
internal sealed class Cholesky
{
    private const int BlockColumns = 48;
    private const int Chunk = 256;

    private readonly double[][] rows;

    private Cholesky(double[][] rows) => this.rows = rows;

    /// <summary>Order of the matrix.</summary>
    public int Size => rows.Length;

    /// <summary>Logarithm of the matrix's determinant.</summary>
    public double LogDeterminant
    {
        get
        {
            double sum = 0;
            for (int i = 0; i < rows.Length; i++)
            {
                sum += Math.Log(rows[i][i]);
            }

            return 2 * sum;
        }
    }

    /// <summary>Factors in place; null when the matrix is not positive definite.</summary>
    /// <param name="lower">The lower triangle; row i has at least i + 1 numbers. It is overwritten and kept.</param>
    public static Cholesky? Factor(double[][] lower)
    {
        int size = lower.Length;
        for (int start = 0; start < size; start += BlockColumns)
        {
            int end = Math.Min(start + BlockColumns, size);
            for (int chunk = 0; chunk < start; chunk += Chunk)
            {
                SubtractProducts(lower, start, end, chunk, Math.Min(chunk + Chunk, start));
            }

            if (!FinishBlock(lower, start, end))
            {
                return null;
            }
        }

        return new Cholesky(lower);
    }

    /// <summary>Row i of the factor, up to its diagonal.</summary>
    public ReadOnlySpan<double> Row(int i) => rows[i].AsSpan(0, i + 1);

    /// <summary>Solves L x = b in place.</summary>
    public void SolveLower(Span<double> right)
    {
        for (int i = 0; i < rows.Length; i++)
        {
            right[i] = (right[i] - RowOperations.Dot(rows[i].AsSpan(0, i), right)) / rows[i][i];
        }
    }

    /// <summary>Solves L x = b in place for many right-hand sides, one a row, with the same blocks as the factor itself.</summary>
    public void SolveLower(double[][] rights)
    {
        int size = rows.Length;
        for (int start = 0; start < size; start += BlockColumns)
        {
            int end = Math.Min(start + BlockColumns, size);
            for (int chunk = 0; chunk < start; chunk += Chunk)
            {
                int length = Math.Min(Chunk, start - chunk);
                for (int i = 0; i < rights.Length; i += 4)
                {
                    for (int j = start; j < end; j += 4)
                    {
                        SubtractBlock(rights, i, j, Math.Min(j + 4, end), chunk, length);
                    }
                }
            }

            foreach (double[] right in rights)
            {
                for (int j = start; j < end; j++)
                {
                    right[j] = (right[j] - RowOperations.Dot(right.AsSpan(start, j - start), rows[j].AsSpan(start, j - start))) / rows[j][j];
                }
            }
        }
    }

    private void SubtractBlock(double[][] rights, int i, int j, int end, int from, int length)
    {
        if (i + 4 <= rights.Length && j + 4 == end)
        {
            SubtractFourByFour(rights, i, rows, j, from, length);
            return;
        }

        for (int row = i; row < Math.Min(i + 4, rights.Length); row++)
        {
            for (int column = j; column < end; column++)
            {
                rights[row][column] -= RowOperations.Dot(rights[row].AsSpan(from, length), rows[column].AsSpan(from, length));
            }
        }
    }

    /// <summary>Solves L-transposed x = b in place.</summary>
    public void SolveUpper(Span<double> right)
    {
        for (int i = rows.Length - 1; i >= 0; i--)
        {
            right[i] /= rows[i][i];
            RowOperations.AddScaled(right[..i], rows[i].AsSpan(0, i), -right[i]);
        }
    }

    /// <summary>The matrix's inverse times <paramref name="right"/>, in place.</summary>
    public void Solve(Span<double> right)
    {
        SolveLower(right);
        SolveUpper(right);
    }

    /// <summary>The diagonal of the matrix's inverse.</summary>
    public double[] InverseDiagonal()
    {
        double[] diagonal = new double[rows.Length];
        double[] column = new double[rows.Length];
        for (int k = 0; k < rows.Length; k++)
        {
            // Column k of L inverse is zero above k.
            Array.Clear(column);
            column[k] = 1 / rows[k][k];
            for (int i = k + 1; i < rows.Length; i++)
            {
                column[i] = -RowOperations.Dot(rows[i].AsSpan(k, i - k), column.AsSpan(k)) / rows[i][i];
            }

            diagonal[k] = RowOperations.Dot(column, column);
        }

        return diagonal;
    }

    /// <summary>Subtracts from columns start..end of all rows from start on the products of the columns from..to that are finished.</summary>
    private static void SubtractProducts(double[][] lower, int start, int end, int from, int to)
    {
        int length = to - from;
        for (int i = start; i < lower.Length; i += 4)
        {
            for (int j = start; j < Math.Min(end, i + 4); j += 4)
            {
                if (i + 4 <= lower.Length && j + 4 <= end && j + 4 <= i + 1)
                {
                    SubtractFourByFour(lower, i, lower, j, from, length);
                }
                else
                {
                    SubtractSingly(lower, i, j, end, from, length);
                }
            }
        }
    }

    private static void SubtractSingly(double[][] lower, int i, int j, int end, int from, int length)
    {
        for (int row = i; row < Math.Min(i + 4, lower.Length); row++)
        {
            for (int column = j; column < Math.Min(Math.Min(j + 4, end), row + 1); column++)
            {
                lower[row][column] -= RowOperations.Dot(lower[row].AsSpan(from, length), lower[column].AsSpan(from, length));
            }
        }
    }

    /// <summary>Sixteen sums of products at once: each number read from memory is used four times.</summary>
    private static void SubtractFourByFour(double[][] left, int i, double[][] right, int j, int from, int length)
    {
        ReadOnlySpan<Vector<double>> a0 = Vectors(left[i], from, length), a1 = Vectors(left[i + 1], from, length);
        ReadOnlySpan<Vector<double>> a2 = Vectors(left[i + 2], from, length), a3 = Vectors(left[i + 3], from, length);
        ReadOnlySpan<Vector<double>> b0 = Vectors(right[j], from, length), b1 = Vectors(right[j + 1], from, length);
        ReadOnlySpan<Vector<double>> b2 = Vectors(right[j + 2], from, length), b3 = Vectors(right[j + 3], from, length);
        Vector<double> s00 = default, s01 = default, s02 = default, s03 = default, s10 = default, s11 = default, s12 = default, s13 = default;
        Vector<double> s20 = default, s21 = default, s22 = default, s23 = default, s30 = default, s31 = default, s32 = default, s33 = default;
        for (int k = 0; k < a0.Length && k < a1.Length && k < a2.Length && k < a3.Length
            && k < b0.Length && k < b1.Length && k < b2.Length && k < b3.Length; k++)
        {
            Vector<double> c0 = b0[k], c1 = b1[k], c2 = b2[k], c3 = b3[k];
            Vector<double> row = a0[k];
            s00 = Vector.FusedMultiplyAdd(row, c0, s00);
            s01 = Vector.FusedMultiplyAdd(row, c1, s01);
            s02 = Vector.FusedMultiplyAdd(row, c2, s02);
            s03 = Vector.FusedMultiplyAdd(row, c3, s03);
            row = a1[k];
            s10 = Vector.FusedMultiplyAdd(row, c0, s10);
            s11 = Vector.FusedMultiplyAdd(row, c1, s11);
            s12 = Vector.FusedMultiplyAdd(row, c2, s12);
            s13 = Vector.FusedMultiplyAdd(row, c3, s13);
            row = a2[k];
            s20 = Vector.FusedMultiplyAdd(row, c0, s20);
            s21 = Vector.FusedMultiplyAdd(row, c1, s21);
            s22 = Vector.FusedMultiplyAdd(row, c2, s22);
            s23 = Vector.FusedMultiplyAdd(row, c3, s23);
            row = a3[k];
            s30 = Vector.FusedMultiplyAdd(row, c0, s30);
            s31 = Vector.FusedMultiplyAdd(row, c1, s31);
            s32 = Vector.FusedMultiplyAdd(row, c2, s32);
            s33 = Vector.FusedMultiplyAdd(row, c3, s33);
        }

        int done = a0.Length * Vector<double>.Count;
        SubtractRow(left[i], right, j, s00, s01, s02, s03, from + done, length - done);
        SubtractRow(left[i + 1], right, j, s10, s11, s12, s13, from + done, length - done);
        SubtractRow(left[i + 2], right, j, s20, s21, s22, s23, from + done, length - done);
        SubtractRow(left[i + 3], right, j, s30, s31, s32, s33, from + done, length - done);
    }

    private static void SubtractRow(
        double[] row, double[][] right, int j, Vector<double> s0, Vector<double> s1, Vector<double> s2, Vector<double> s3, int rest, int length)
    {
        Span<double> sums = [RowOperations.Sum(s0), RowOperations.Sum(s1), RowOperations.Sum(s2), RowOperations.Sum(s3)];
        for (int column = 0; column < 4; column++)
        {
            double sum = sums[column];
            for (int k = rest; k < rest + length; k++)
            {
                sum += row[k] * right[j + column][k];
            }

            row[j + column] -= sum;
        }
    }

    private static ReadOnlySpan<Vector<double>> Vectors(double[] row, int from, int length) =>
        MemoryMarshal.Cast<double, Vector<double>>(row.AsSpan(from, length));

    /// <summary>Factors the block's own triangle and solves the rows below it.</summary>
    private static bool FinishBlock(double[][] lower, int start, int end)
    {
        for (int i = start; i < lower.Length; i++)
        {
            double[] row = lower[i];
            for (int j = start; j < Math.Min(end, i); j++)
            {
                row[j] = (row[j] - RowOperations.Dot(row.AsSpan(start, j - start), lower[j].AsSpan(start, j - start))) / lower[j][j];
            }

            if (i < end)
            {
                double pivot = row[i] - RowOperations.Dot(row.AsSpan(start, i - start), row.AsSpan(start, i - start));
                if (!(pivot > 0) || !double.IsFinite(pivot))
                {
                    return false;
                }

                row[i] = Math.Sqrt(pivot);
            }
        }

        return true;
    }
}
