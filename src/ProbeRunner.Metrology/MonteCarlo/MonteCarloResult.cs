namespace ProbeRunner.Metrology.MonteCarlo;

/// <summary>What the propagation of distributions came to (JCGM 101:2008, 7).</summary>
/// <param name="Mean">Estimate of the result: mean of the draws.</param>
/// <param name="StandardUncertainty">Standard deviation of the draws.</param>
/// <param name="CoverageProbability">The probability that both intervals are stated for.</param>
/// <param name="Shortest">The shortest coverage interval.</param>
/// <param name="Symmetric">The probabilistically symmetric coverage interval.</param>
/// <param name="Draws">How many draws were made.</param>
public sealed record MonteCarloResult(
    double Mean,
    double StandardUncertainty,
    double CoverageProbability,
    CoverageInterval Shortest,
    CoverageInterval Symmetric,
    int Draws);

/// <summary>An adaptive run's result, with whether it settled.</summary>
/// <param name="Result">From all draws made.</param>
/// <param name="Tolerance">The numerical tolerance asked for, in the result's unit: half a unit of the last significant digit of the uncertainty.</param>
/// <param name="Settled">Whether mean, uncertainty and interval ends were all stable to the tolerance before the cap on draws.</param>
public sealed record AdaptiveMonteCarloResult(MonteCarloResult Result, double Tolerance, bool Settled);
