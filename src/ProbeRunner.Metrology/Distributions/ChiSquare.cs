using MathNet.Numerics;

namespace ProbeRunner.Metrology.Distributions;

/// <summary>The chi-square distribution.</summary>
public static class ChiSquare
{
    /// <summary>Below this the first term of the series is exact to double precision, and the library's function returns 0.</summary>
    private const double Tiny = 1e-14;

    /// <summary>Probability of a value below <paramref name="x"/>.</summary>
    public static double Below(double x, double degreesOfFreedom) =>
        x <= 0 ? 0
        : x < Tiny ? Math.Exp((degreesOfFreedom / 2 * Math.Log(x / 2)) - SpecialFunctions.GammaLn((degreesOfFreedom / 2) + 1))
        : SpecialFunctions.GammaLowerRegularized(degreesOfFreedom / 2, x / 2);

    /// <summary>Probability of a value above <paramref name="x"/>, accurate far out in the tail.</summary>
    public static double Above(double x, double degreesOfFreedom) =>
        x <= 0 ? 1 : SpecialFunctions.GammaUpperRegularized(degreesOfFreedom / 2, x / 2);

    /// <summary>Density at <paramref name="x"/>.</summary>
    public static double Density(double x, double degreesOfFreedom)
    {
        if (x <= 0)
        {
            return 0;
        }

        double half = degreesOfFreedom / 2;
        return Math.Exp(((half - 1) * Math.Log(x / 2)) - (x / 2) - SpecialFunctions.GammaLn(half)) / 2;
    }

    /// <summary>The value below which a share <paramref name="probability"/> lies; 0 &lt; probability &lt; 1.</summary>
    public static double Quantile(double probability, double degreesOfFreedom)
    {
        // Wilson and Hilferty's cube, then bisection guarded Newton steps on the distribution function.
        double z = StandardNormal.Quantile(probability);
        double ninth = 2 / (9 * degreesOfFreedom);
        double start = degreesOfFreedom * Math.Pow(Math.Max(1 - ninth + (z * Math.Sqrt(ninth)), 0.02), 3);
        return PositiveRoot.Find(x => Below(x, degreesOfFreedom) - probability, x => Density(x, degreesOfFreedom), start);
    }
}
