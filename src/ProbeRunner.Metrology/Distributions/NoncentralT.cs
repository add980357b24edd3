using MathNet.Numerics;
using MathNet.Numerics.Integration;

namespace ProbeRunner.Metrology.Distributions;

/// <summary>The noncentral t distribution: (Z + shift) / sqrt(chi-square / nu).</summary>
public static class NoncentralT
{
    private const int Panels = 40;
    private static readonly GaussLegendreRule Rule = new(-1, 1, 20);

    /// <summary>Probability of a value below <paramref name="t"/>, by integrating the normal over the law of the standard deviation; good to about 1e-12.</summary>
    public static double Below(double t, double degreesOfFreedom, double shift) =>
        OverSigma(degreesOfFreedom, ratio => StandardNormal.Below((t * ratio) - shift));

    /// <summary>The value below which a share <paramref name="probability"/> lies, for a positive shift and a probability above one half.</summary>
    public static double UpperQuantile(double probability, double degreesOfFreedom, double shift) => PositiveRoot.Find(
        t => Below(t, degreesOfFreedom, shift) - probability,
        t => OverSigma(degreesOfFreedom, ratio => ratio * StandardNormal.Density((t * ratio) - shift)),
        Math.Max(shift, 1));

    /// <summary>The mean of <paramref name="integrand"/>(s / sigma) when s has <paramref name="degreesOfFreedom"/>.</summary>
    internal static double OverSigma(double degreesOfFreedom, Func<double, double> integrand)
    {
        double low = Math.Sqrt(ChiSquare.Quantile(1e-15, degreesOfFreedom) / degreesOfFreedom);
        double high = Math.Sqrt(ChiSquare.Quantile(1 - 1e-15, degreesOfFreedom) / degreesOfFreedom);
        double constant = Math.Log(2) + (degreesOfFreedom / 2 * Math.Log(degreesOfFreedom / 2)) - SpecialFunctions.GammaLn(degreesOfFreedom / 2);
        return Over(low, high, ratio => integrand(ratio) * Math.Exp(
            constant + ((degreesOfFreedom - 1) * Math.Log(ratio)) - (degreesOfFreedom * ratio * ratio / 2)));
    }

    /// <summary>Integral by Gauss and Legendre's rule of 20 points on 40 panels.</summary>
    internal static double Over(double low, double high, Func<double, double> integrand)
    {
        double half = (high - low) / (2 * Panels);
        double sum = 0;
        for (int panel = 0; panel < Panels; panel++)
        {
            double centre = low + (((2 * panel) + 1) * half);
            for (int i = 0; i < Rule.Order; i++)
            {
                sum += Rule.GetWeight(i) * integrand(centre + (half * Rule.GetAbscissa(i)));
            }
        }

        return sum * half;
    }
}
