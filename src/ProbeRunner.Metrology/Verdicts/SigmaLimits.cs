namespace ProbeRunner.Metrology.Verdicts;

/// <summary>What a probe's repeatability is judged against.</summary>
/// <param name="GoodSigma">A standard deviation, mm, that must be called fit; above 0, 0.005 unless said otherwise.</param>
/// <param name="BadSigma">A standard deviation, mm, that must be called not fit; above GoodSigma, 0.010 unless said otherwise.</param>
/// <param name="Confidence">One less the share of wrong verdicts accepted at either; 0.5 to 1, 0.95 unless said otherwise.</param>
/// <param name="Cap">Readings after which no more are asked for; 3 or more, 40 unless said otherwise; 25 is enough for the normal law.</param>
/// <param name="Tails">What is assumed of rare large deviations; nothing unless said otherwise.</param>
public sealed record SigmaLimits(
    double GoodSigma = 0.005,
    double BadSigma = 0.010,
    double Confidence = 0.95,
    int Cap = 40,
    TailAssumption Tails = TailAssumption.Any);

/// <summary>What is assumed of rare large deviations.</summary>
public enum TailAssumption
{
    /// <summary>
    /// Nothing: heavy tails (Student's t with 4 degrees of freedom) and two outliers in a hundred keep the error rates too. No test
    /// can do that with as few touches as one that trusts the normal law: a bad probe with heavy tails looks like a good one for long.
    /// </summary>
    Any,

    /// <summary>Readings are normal, on a comb or not: fewest touches; with heavy tails or outliers the errors are two to four times as many.</summary>
    Normal,
}
