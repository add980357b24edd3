using MathNet.Numerics;

namespace ProbeRunner.Metrology.Distributions;

/// <summary>Fisher's F distribution: the ratio of two variances.</summary>
public static class FisherF
{
    /// <summary>Probability of a ratio below <paramref name="f"/>.</summary>
    public static double Below(double f, double upperFreedom, double lowerFreedom) =>
        f <= 0 ? 0 : SpecialFunctions.BetaRegularized(upperFreedom / 2, lowerFreedom / 2, upperFreedom * f / ((upperFreedom * f) + lowerFreedom));

    /// <summary>Probability of a ratio above <paramref name="f"/>, accurate far out in the tail.</summary>
    public static double Above(double f, double upperFreedom, double lowerFreedom) =>
        f <= 0 ? 1 : SpecialFunctions.BetaRegularized(lowerFreedom / 2, upperFreedom / 2, lowerFreedom / ((upperFreedom * f) + lowerFreedom));

    /// <summary>The ratio below which a share <paramref name="probability"/> lies; 0 &lt; probability &lt; 1.</summary>
    public static double Quantile(double probability, double upperFreedom, double lowerFreedom) => PositiveRoot.Find(
        f => probability > 0.5 ? 1 - probability - Above(f, upperFreedom, lowerFreedom) : Below(f, upperFreedom, lowerFreedom) - probability,
        f => Density(f, upperFreedom, lowerFreedom),
        1);

    private static double Density(double f, double upper, double lower) => Math.Exp(
        SpecialFunctions.GammaLn((upper + lower) / 2) - SpecialFunctions.GammaLn(upper / 2) - SpecialFunctions.GammaLn(lower / 2)
        + (upper / 2 * Math.Log(upper / lower)) + (((upper / 2) - 1) * Math.Log(f))
        - ((upper + lower) / 2 * Math.Log(1 + (upper * f / lower))));
}
