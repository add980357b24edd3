using MathNet.Numerics;

namespace ProbeRunner.Metrology.Distributions;

/// <summary>Student's t distribution.</summary>
public static class StudentT
{
    /// <summary>Probability of a value below <paramref name="t"/>.</summary>
    public static double Below(double t, double degreesOfFreedom)
    {
        double half = 0.5 * TwoSided(t, degreesOfFreedom);
        return t > 0 ? 1 - half : half;
    }

    /// <summary>Probability of a value above <paramref name="t"/>.</summary>
    public static double Above(double t, double degreesOfFreedom) => Below(-t, degreesOfFreedom);

    /// <summary>Probability of a value farther from 0 than <paramref name="t"/>: the two-sided p-value.</summary>
    public static double TwoSided(double t, double degreesOfFreedom)
    {
        double square = t * t;
        if (double.IsPositiveInfinity(square))
        {
            return 0;
        }

        // The form whose argument is small keeps its digits: far out the first, near 0 the complement of the second.
        return square > degreesOfFreedom
            ? SpecialFunctions.BetaRegularized(degreesOfFreedom / 2, 0.5, degreesOfFreedom / (degreesOfFreedom + square))
            : 1 - SpecialFunctions.BetaRegularized(0.5, degreesOfFreedom / 2, square / (degreesOfFreedom + square));
    }

    /// <summary>The value below which a share <paramref name="probability"/> lies; 0 &lt; probability &lt; 1.</summary>
    public static double Quantile(double probability, double degreesOfFreedom)
    {
        if (probability == 0.5)
        {
            return 0;
        }

        double tail = Math.Min(probability, 1 - probability);
        double start = Math.Max(Math.Abs(StandardNormal.Quantile(tail)), 0.01);
        double size = PositiveRoot.Find(
            t => tail - (0.5 * TwoSided(t, degreesOfFreedom)),
            t => Density(t, degreesOfFreedom),
            start);
        return probability < 0.5 ? -size : size;
    }

    private static double Density(double t, double degreesOfFreedom) => Math.Exp(
        SpecialFunctions.GammaLn((degreesOfFreedom + 1) / 2) - SpecialFunctions.GammaLn(degreesOfFreedom / 2)
        - (0.5 * Math.Log(degreesOfFreedom * Math.PI)) - ((degreesOfFreedom + 1) / 2 * Math.Log(1 + (t * t / degreesOfFreedom))));
}
