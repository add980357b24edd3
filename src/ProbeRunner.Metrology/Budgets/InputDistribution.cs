using MathNet.Numerics.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Budgets;

/// <summary>
/// What is known about an input quantity, as a probability distribution (JCGM 101:2008, 6.4).
/// It gives a budget its standard uncertainty and a Monte Carlo run its draws.
/// </summary>
public abstract record InputDistribution
{
    private protected InputDistribution(double centre) => Centre = centre;

    /// <summary>The expectation, which is also the point of symmetry, in the quantity's unit.</summary>
    public double Centre { get; }

    /// <summary>The standard deviation, in the quantity's unit; meaningful only while <see cref="Check"/> is silent.</summary>
    public abstract double StandardDeviation { get; }

    /// <summary>One draw from the distribution.</summary>
    /// <param name="chance">The seeded generator that the caller owns.</param>
    public abstract double Draw(Random chance);

    /// <summary>The reason why the parameters describe no distribution; null when they do.</summary>
    internal abstract Reason? Check();

    private protected Reason? CheckWidth(double width, string what) =>
        double.IsFinite(Centre) && double.IsFinite(width) && width >= 0
            ? null
            : Reason.OutOfRange($"A distribution needs a finite centre and a finite {what} of 0 or more.");
}

/// <summary>Normal distribution (JCGM 101:2008, 6.4.7).</summary>
/// <param name="Centre">Expectation.</param>
/// <param name="StandardDeviation">Standard deviation, 0 or more.</param>
public sealed record NormalDistribution(double Centre, double StandardDeviation) : InputDistribution(Centre)
{
    /// <inheritdoc/>
    public override double StandardDeviation { get; } = StandardDeviation;

    /// <inheritdoc/>
    public override double Draw(Random chance) => Normal.Sample(chance, Centre, StandardDeviation);

    internal override Reason? Check() => CheckWidth(StandardDeviation, "standard deviation");
}

/// <summary>Scaled and shifted t distribution: a mean and its standard error from few readings (JCGM 101:2008, 6.4.9).</summary>
/// <param name="Centre">Expectation.</param>
/// <param name="Scale">Standard uncertainty as a budget states it, 0 or more.</param>
/// <param name="DegreesOfFreedom">More than 2; with 2 or fewer no standard deviation exists.</param>
public sealed record StudentDistribution(double Centre, double Scale, double DegreesOfFreedom) : InputDistribution(Centre)
{
    /// <inheritdoc/>
    public override double StandardDeviation => Scale * Math.Sqrt(DegreesOfFreedom / (DegreesOfFreedom - 2));

    /// <inheritdoc/>
    public override double Draw(Random chance) => Centre + (Scale * StudentT.Sample(chance, 0, 1, DegreesOfFreedom));

    internal override Reason? Check() => DegreesOfFreedom > 2 && double.IsFinite(DegreesOfFreedom)
        ? CheckWidth(Scale, "scale")
        : Reason.OutOfRange("A t distribution needs more than 2 degrees of freedom: with fewer it has no standard deviation.");
}

/// <summary>Rectangular distribution: all values within the half-width equally likely (JCGM 101:2008, 6.4.2).</summary>
/// <param name="Centre">Expectation.</param>
/// <param name="HalfWidth">Half the width, 0 or more.</param>
public sealed record RectangularDistribution(double Centre, double HalfWidth) : InputDistribution(Centre)
{
    /// <inheritdoc/>
    public override double StandardDeviation => HalfWidth / Math.Sqrt(3);

    /// <inheritdoc/>
    public override double Draw(Random chance) => Centre + (HalfWidth * chance.NextSigned());

    internal override Reason? Check() => CheckWidth(HalfWidth, "half-width");
}

/// <summary>Triangular distribution: the sum of two equal rectangular ones (JCGM 101:2008, 6.4.5).</summary>
/// <param name="Centre">Expectation.</param>
/// <param name="HalfWidth">Half the width, 0 or more.</param>
public sealed record TriangularDistribution(double Centre, double HalfWidth) : InputDistribution(Centre)
{
    /// <inheritdoc/>
    public override double StandardDeviation => HalfWidth / Math.Sqrt(6);

    /// <inheritdoc/>
    public override double Draw(Random chance) => Centre + (HalfWidth / 2 * (chance.NextSigned() + chance.NextSigned()));

    internal override Reason? Check() => CheckWidth(HalfWidth, "half-width");
}

/// <summary>Arcsine (U-shaped) distribution: a quantity that cycles sinusoidally within the half-width (JCGM 101:2008, 6.4.6).</summary>
/// <param name="Centre">Expectation.</param>
/// <param name="HalfWidth">Half the width, 0 or more.</param>
public sealed record ArcsineDistribution(double Centre, double HalfWidth) : InputDistribution(Centre)
{
    /// <inheritdoc/>
    public override double StandardDeviation => HalfWidth / Math.Sqrt(2);

    /// <inheritdoc/>
    public override double Draw(Random chance) => Centre + (HalfWidth * Math.Sin(Math.PI * chance.NextSigned()));

    internal override Reason? Check() => CheckWidth(HalfWidth, "half-width");
}

/// <summary>Symmetric trapezoid: flat over <paramref name="TopRatio"/> of the base, falling linearly to its ends (JCGM 101:2008, 6.4.4).</summary>
/// <param name="Centre">Expectation.</param>
/// <param name="HalfWidth">Half the base, 0 or more.</param>
/// <param name="TopRatio">Width of the flat top over the base, 0 (triangle) to 1 (rectangle).</param>
public sealed record TrapezoidDistribution(double Centre, double HalfWidth, double TopRatio) : InputDistribution(Centre)
{
    /// <inheritdoc/>
    public override double StandardDeviation => HalfWidth * Math.Sqrt((1 + (TopRatio * TopRatio)) / 6);

    /// <inheritdoc/>
    public override double Draw(Random chance) =>
        Centre + (HalfWidth / 2 * (((1 + TopRatio) * chance.NextSigned()) + ((1 - TopRatio) * chance.NextSigned())));

    internal override Reason? Check() => TopRatio is >= 0 and <= 1
        ? CheckWidth(HalfWidth, "half-width")
        : Reason.OutOfRange("The top of a trapezoid is 0 to 1 of its base.");
}

/// <summary>Rectangular distribution whose half-width is itself only known within limits (JCGM 101:2008, 6.4.3).</summary>
/// <param name="Centre">Expectation.</param>
/// <param name="HalfWidth">Half-width of the rectangle.</param>
/// <param name="HalfWidthLimit">How far each end may be off; 0 to <paramref name="HalfWidth"/>.</param>
public sealed record InexactRectangularDistribution(double Centre, double HalfWidth, double HalfWidthLimit) : InputDistribution(Centre)
{
    /// <inheritdoc/>
    public override double StandardDeviation =>
        Math.Sqrt((HalfWidth * HalfWidth / 3) + (HalfWidthLimit * HalfWidthLimit / 9));

    /// <inheritdoc/>
    public override double Draw(Random chance)
    {
        double reach = HalfWidth + (HalfWidthLimit * chance.NextSigned());
        return Centre + (reach * chance.NextSigned());
    }

    internal override Reason? Check() => HalfWidthLimit >= 0 && HalfWidthLimit <= HalfWidth
        ? CheckWidth(HalfWidth, "half-width")
        : Reason.OutOfRange("The ends of an inexact rectangle may be off by 0 up to its half-width.");
}

internal static class SignedDraws
{
    /// <summary>A number drawn uniformly from [-1, 1).</summary>
    internal static double NextSigned(this Random chance) => (2 * chance.NextDouble()) - 1;
}
