using MathNet.Numerics;

namespace ProbeRunner.Metrology.Distributions;

/// <summary>The normal distribution with mean 0 and standard deviation 1.</summary>
public static class StandardNormal
{
    private const double InverseSqrtTwoPi = 0.39894228040143267794;
    private const double SqrtTwo = 1.41421356237309504880;

    /// <summary>Density at <paramref name="z"/>.</summary>
    public static double Density(double z) => InverseSqrtTwoPi * Math.Exp(-0.5 * z * z);

    /// <summary>Probability of a value below <paramref name="z"/>.</summary>
    public static double Below(double z) => 0.5 * SpecialFunctions.Erfc(-z / SqrtTwo);

    /// <summary>Probability of a value above <paramref name="z"/>, accurate far out in the tail.</summary>
    public static double Above(double z) => 0.5 * SpecialFunctions.Erfc(z / SqrtTwo);

    /// <summary>Probability of a value farther from 0 than <paramref name="z"/>: the two-sided p-value.</summary>
    public static double TwoSided(double z) => SpecialFunctions.Erfc(Math.Abs(z) / SqrtTwo);

    /// <summary>The value below which a share <paramref name="probability"/> lies; 0 &lt; probability &lt; 1.</summary>
    public static double Quantile(double probability)
    {
        double z = -SqrtTwo * SpecialFunctions.ErfcInv(2 * probability);
        double error = Below(z) - probability;
        double step = error / Density(z);
        return z - (step / (1 + (z * step / 2)));
    }
}
