using System.Numerics;
using System.Runtime.InteropServices;

namespace ProbeRunner.Metrology.LinearAlgebra;

/// <summary>Vectorised operations on rows of numbers of equal length.</summary>
internal static class RowOperations
{
    /// <summary>The lanes added from the first on: the same order, so the same last digit, however the code was compiled.</summary>
    public static double Sum(Vector<double> lanes)
    {
        double sum = lanes[0];
        for (int lane = 1; lane < Vector<double>.Count; lane++)
        {
            sum += lanes[lane];
        }

        return sum;
    }

    /// <summary>Sum of products.</summary>
    public static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        ReadOnlySpan<Vector<double>> va = MemoryMarshal.Cast<double, Vector<double>>(a);
        ReadOnlySpan<Vector<double>> vb = MemoryMarshal.Cast<double, Vector<double>>(b[..a.Length]);
        Vector<double> first = Vector<double>.Zero, second = Vector<double>.Zero;
        int i = 0;
        for (; i + 1 < va.Length; i += 2)
        {
            first = Vector.FusedMultiplyAdd(va[i], vb[i], first);
            second = Vector.FusedMultiplyAdd(va[i + 1], vb[i + 1], second);
        }

        if (i < va.Length)
        {
            first = Vector.FusedMultiplyAdd(va[i], vb[i], first);
        }

        double sum = Sum(first + second);
        for (int k = va.Length * Vector<double>.Count; k < a.Length; k++)
        {
            sum += a[k] * b[k];
        }

        return sum;
    }

    /// <summary>target = a * b, number by number.</summary>
    public static void Multiply(Span<double> target, ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        Span<Vector<double>> vt = MemoryMarshal.Cast<double, Vector<double>>(target);
        ReadOnlySpan<Vector<double>> va = MemoryMarshal.Cast<double, Vector<double>>(a[..target.Length]);
        ReadOnlySpan<Vector<double>> vb = MemoryMarshal.Cast<double, Vector<double>>(b[..target.Length]);
        for (int i = 0; i < vt.Length; i++)
        {
            vt[i] = va[i] * vb[i];
        }

        for (int k = vt.Length * Vector<double>.Count; k < target.Length; k++)
        {
            target[k] = a[k] * b[k];
        }
    }

    /// <summary>target += scale * source.</summary>
    public static void AddScaled(Span<double> target, ReadOnlySpan<double> source, double scale)
    {
        Span<Vector<double>> vt = MemoryMarshal.Cast<double, Vector<double>>(target);
        ReadOnlySpan<Vector<double>> vs = MemoryMarshal.Cast<double, Vector<double>>(source[..target.Length]);
        var factor = new Vector<double>(scale);
        for (int i = 0; i < vt.Length; i++)
        {
            vt[i] = Vector.FusedMultiplyAdd(vs[i], factor, vt[i]);
        }

        for (int k = vt.Length * Vector<double>.Count; k < target.Length; k++)
        {
            target[k] += scale * source[k];
        }
    }

    /// <summary>target -= p * a + q * b, in one pass.</summary>
    public static void SubtractTwo(Span<double> target, ReadOnlySpan<double> a, double p, ReadOnlySpan<double> b, double q)
    {
        Span<Vector<double>> vt = MemoryMarshal.Cast<double, Vector<double>>(target);
        ReadOnlySpan<Vector<double>> va = MemoryMarshal.Cast<double, Vector<double>>(a[..target.Length]);
        ReadOnlySpan<Vector<double>> vb = MemoryMarshal.Cast<double, Vector<double>>(b[..target.Length]);
        Vector<double> minusP = new(-p), minusQ = new(-q);
        for (int i = 0; i < vt.Length; i++)
        {
            vt[i] = Vector.FusedMultiplyAdd(va[i], minusP, Vector.FusedMultiplyAdd(vb[i], minusQ, vt[i]));
        }

        for (int k = vt.Length * Vector<double>.Count; k < target.Length; k++)
        {
            target[k] -= (p * a[k]) + (q * b[k]);
        }
    }

    /// <summary>Adds scale * row to <paramref name="target"/> and returns the sum of products of row and weights, in one pass over row.</summary>
    public static double DotAndAddScaled(ReadOnlySpan<double> row, ReadOnlySpan<double> weights, Span<double> target, double scale)
    {
        ReadOnlySpan<Vector<double>> vr = MemoryMarshal.Cast<double, Vector<double>>(row);
        ReadOnlySpan<Vector<double>> vw = MemoryMarshal.Cast<double, Vector<double>>(weights[..row.Length]);
        Span<Vector<double>> vt = MemoryMarshal.Cast<double, Vector<double>>(target[..row.Length]);
        Vector<double> sums = Vector<double>.Zero, factor = new(scale);
        for (int i = 0; i < vr.Length; i++)
        {
            Vector<double> value = vr[i];
            sums = Vector.FusedMultiplyAdd(value, vw[i], sums);
            vt[i] = Vector.FusedMultiplyAdd(value, factor, vt[i]);
        }

        double sum = Sum(sums);
        for (int k = vr.Length * Vector<double>.Count; k < row.Length; k++)
        {
            sum += row[k] * weights[k];
            target[k] += scale * row[k];
        }

        return sum;
    }
}
