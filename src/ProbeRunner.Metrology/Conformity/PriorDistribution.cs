using MathNet.Numerics.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Conformity;

/// <summary>What the process that makes the items is known to produce, before one of them is measured (JCGM 106:2012, 9.2).</summary>
public sealed class PriorDistribution
{
    private readonly Func<double, double> density;
    private readonly Func<double, double> cumulative;
    private readonly Func<double, double> quantile;

    private PriorDistribution(Func<double, double> density, Func<double, double> cumulative, Func<double, double> quantile)
    {
        this.density = density;
        this.cumulative = cumulative;
        this.quantile = quantile;
    }

    /// <summary>Normal, with a standard deviation above 0.</summary>
    public static Answer<PriorDistribution> Normal(double mean, double standardDeviation) =>
        double.IsFinite(mean) && standardDeviation > 0 && double.IsFinite(standardDeviation)
            ? Of(new Normal(mean, standardDeviation), new Normal(mean, standardDeviation).InverseCumulativeDistribution)
            : Reason.OutOfRange("A normal prior needs a finite mean and a standard deviation above 0.");

    /// <summary>Gamma, for quantities that can't be negative, such as a flatness; mean is shape over rate.</summary>
    /// <param name="shape">1 or more.</param>
    /// <param name="rate">Above 0, in the inverse of the quantity's unit.</param>
    public static Answer<PriorDistribution> Gamma(double shape, double rate) =>
        shape >= 1 && double.IsFinite(shape) && rate > 0 && double.IsFinite(rate)
            ? Of(new Gamma(shape, rate), new Gamma(shape, rate).InverseCumulativeDistribution)
            : Reason.OutOfRange("A gamma prior needs a shape of 1 or more and a rate above 0.");

    /// <summary>Rectangular, all values between two limits equally likely.</summary>
    public static Answer<PriorDistribution> Rectangular(double lower, double upper) =>
        double.IsFinite(lower) && double.IsFinite(upper) && lower < upper
            ? Of(new ContinuousUniform(lower, upper), new ContinuousUniform(lower, upper).InverseCumulativeDistribution)
            : Reason.OutOfRange("A rectangular prior needs finite limits, the lower one below the upper one.");

    /// <summary>Probability density.</summary>
    internal double Density(double value) => density(value);

    /// <summary>Probability of at most <paramref name="value"/>.</summary>
    internal double Cumulative(double value) => cumulative(value);

    /// <summary>The value that is exceeded with probability 1 - <paramref name="probability"/>.</summary>
    internal double Quantile(double probability) => quantile(probability);

    private static PriorDistribution Of(IContinuousDistribution law, Func<double, double> quantile) =>
        new(law.Density, law.CumulativeDistribution, quantile);
}
