using MathNet.Numerics.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Conformity;

/// <summary>What the process that makes the items is known to produce, before one of them is measured (JCGM 106:2012, 9.2).</summary>
public sealed class PriorDistribution
{
    // Distances from the mean in standard deviations that cut a bell into pieces smooth enough for one integration rule each.
    private static readonly double[] BellCuts = [-8.5, -6, -4, -2.5, -1.2, 0, 1.2, 2.5, 4, 6, 8.5];

    private readonly IContinuousDistribution law;

    private PriorDistribution(IContinuousDistribution law, IReadOnlyList<double> cuts)
    {
        this.law = law;
        Cuts = cuts;
    }

    /// <summary>Rising values: the first and last bound the range that holds all but about 1e-16 of the probability.</summary>
    internal IReadOnlyList<double> Cuts { get; }

    /// <summary>Normal, with a standard deviation above 0.</summary>
    public static Answer<PriorDistribution> Normal(double mean, double standardDeviation) =>
        double.IsFinite(mean) && standardDeviation > 0 && double.IsFinite(standardDeviation)
            ? new PriorDistribution(new Normal(mean, standardDeviation), [.. BellCuts.Select(cut => mean + (cut * standardDeviation))])
            : Reason.OutOfRange("A normal prior needs a finite mean and a standard deviation above 0.");

    /// <summary>Gamma, for quantities that can't be negative, such as a flatness; mean is shape over rate.</summary>
    /// <param name="shape">1 or more.</param>
    /// <param name="rate">Above 0, in the inverse of the quantity's unit.</param>
    public static Answer<PriorDistribution> Gamma(double shape, double rate)
    {
        if (!(shape >= 1 && double.IsFinite(shape) && rate > 0 && double.IsFinite(rate)))
        {
            return Reason.OutOfRange("A gamma prior needs a shape of 1 or more and a rate above 0.");
        }

        // The upper tail falls exponentially, so it reaches further than a bell's.
        double[] tail = [12, 20, 40];
        IEnumerable<double> cuts = BellCuts.Select(cut => Math.Max(0, shape + (cut * Math.Sqrt(shape))))
            .Concat(tail.Select(cut => shape + (8.5 * Math.Sqrt(shape)) + cut))
            .Select(cut => cut / rate);
        return new PriorDistribution(new Gamma(shape, rate), [.. cuts.Distinct()]);
    }

    /// <summary>Rectangular, all values between two limits equally likely.</summary>
    public static Answer<PriorDistribution> Rectangular(double lower, double upper) =>
        double.IsFinite(lower) && double.IsFinite(upper) && lower < upper
            ? new PriorDistribution(new ContinuousUniform(lower, upper), [lower, upper])
            : Reason.OutOfRange("A rectangular prior needs finite limits, the lower one below the upper one.");

    /// <summary>Probability density.</summary>
    internal double Density(double value) => law.Density(value);

    /// <summary>Probability of at most <paramref name="value"/>.</summary>
    internal double Cumulative(double value) => law.CumulativeDistribution(value);
}
