namespace ProbeRunner.Metrology.Nested;

/// <summary>What one level contributes to the scatter.</summary>
/// <param name="Level">Its name; the last component is the readings themselves.</param>
/// <param name="Variance">The estimate, negative ones set to 0 as is usual (Searle, Casella and McCulloch 1992, 3.5); square of the unit of the readings.</param>
/// <param name="RawVariance">The analysis-of-variance estimate as it came, negative at times: unbiased.</param>
/// <param name="SumOfSquares">Of this level within the one around it.</param>
/// <param name="DegreesOfFreedom">Of that sum of squares.</param>
/// <param name="Lower">Lower limit of the variance, 0 or more.</param>
/// <param name="Upper">Upper limit of the variance.</param>
public sealed record VarianceComponent(
    string Level,
    double Variance,
    double RawVariance,
    double SumOfSquares,
    int DegreesOfFreedom,
    double Lower,
    double Upper)
{
    /// <summary>Mean square of the level.</summary>
    public double MeanSquare => SumOfSquares / DegreesOfFreedom;

    /// <summary>Standard deviation, in the unit of the readings.</summary>
    public double Sigma => Math.Sqrt(Variance);
}
