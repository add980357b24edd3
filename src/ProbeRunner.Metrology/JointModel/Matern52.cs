using System.Numerics;
using System.Runtime.InteropServices;
using ProbeRunner.Metrology.LinearAlgebra;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>
/// Matern correlation of order 5/2, (1 + s + s^2/3) exp(-s) with s = sqrt(5) d / length
/// (Rasmussen and Williams, Gaussian Processes for Machine Learning, 2006, equation 4.17): twice differentiable surfaces.
/// </summary>
internal static class Matern52
{
    private static readonly double RootFive = Math.Sqrt(5);

    /// <summary>Correlation at a distance.</summary>
    public static double At(double distance, double length)
    {
        double s = RootFive * distance / length;
        return (1 + s + (s * s / 3)) * Math.Exp(-s);
    }

    /// <summary>Correlations at many distances.</summary>
    public static void Fill(ReadOnlySpan<double> distances, double length, Span<double> correlations)
    {
        double scale = RootFive / length;
        ReadOnlySpan<Vector<double>> from = MemoryMarshal.Cast<double, Vector<double>>(distances);
        Span<Vector<double>> to = MemoryMarshal.Cast<double, Vector<double>>(correlations[..distances.Length]);
        Vector<double> factor = new(scale), third = new(1.0 / 3);
        for (int i = 0; i < from.Length; i++)
        {
            Vector<double> s = from[i] * factor;
            to[i] = Vector.FusedMultiplyAdd(s, Vector.FusedMultiplyAdd(s, third, Vector<double>.One), Vector<double>.One) * DecayingExponential.At(s);
        }

        for (int i = from.Length * Vector<double>.Count; i < distances.Length; i++)
        {
            correlations[i] = At(distances[i], length);
        }
    }
}
