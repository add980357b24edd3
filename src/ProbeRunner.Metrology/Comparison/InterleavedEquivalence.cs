using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Comparison;

/// <summary>What "as good as the reference" means.</summary>
/// <param name="MarginMm">Largest difference of means that doesn't matter.</param>
/// <param name="LargestRatio">Largest ratio of sigmas that doesn't matter, above 1.</param>
/// <param name="NegligibleSigmaMm">A reference that scatters less counts as scattering this much: finer than the machine resolves.</param>
/// <param name="Significance">Of each one-sided test.</param>
public sealed record EquivalenceLimits(double MarginMm, double LargestRatio, double NegligibleSigmaMm, double Significance = 0.05);

/// <summary>
/// A candidate compared with a reference in rounds: reference, candidate, reference. Its mean is judged by the differences within rounds, so that
/// drift does not bias it (two one-sided t tests on pairs: Schuirmann 1987); its scatter about a straight line by F (one-sided), against a ratio.
/// </summary>
/// <param name="MeanDifference">Candidate less reference.</param>
/// <param name="DifferenceLower">Lower limit of the interval that two one-sided tests mean: 1 - 2 x significance.</param>
/// <param name="DifferenceUpper">Upper limit.</param>
/// <param name="PValue">Of a difference of means that matters: the larger of the two one-sided ones.</param>
/// <param name="ReferenceSigma">About its straight line.</param>
/// <param name="CandidateSigma">About its straight line.</param>
/// <param name="RatioUpper">One-sided upper limit of candidate's over reference's sigma.</param>
/// <param name="MeanIsEquivalent">Means differ by less than the margin.</param>
/// <param name="ScatterIsEquivalent">The ratio is below the largest that doesn't matter.</param>
/// <param name="IsHopeless">The candidate differs for certain (one-sided 99 %): more rounds won't make it equivalent.</param>
public sealed record InterleavedEquivalence(
    double MeanDifference,
    double DifferenceLower,
    double DifferenceUpper,
    double PValue,
    double ReferenceSigma,
    double CandidateSigma,
    double RatioUpper,
    bool MeanIsEquivalent,
    bool ScatterIsEquivalent,
    bool IsHopeless)
{
    private const int FewestRounds = 4;
    private const double HopelessSignificance = 0.01;

    /// <summary>Both mean and scatter are.</summary>
    public bool IsEquivalent => MeanIsEquivalent && ScatterIsEquivalent;

    /// <summary>Compares four rounds or more; the three lists hold one reading a round.</summary>
    /// <param name="before">The reference at the beginning of each round, mm.</param>
    /// <param name="candidate">The candidate within it.</param>
    /// <param name="after">The reference at its end.</param>
    /// <param name="limits">What doesn't matter.</param>
    public static Answer<InterleavedEquivalence> Of(
        IReadOnlyList<double> before, IReadOnlyList<double> candidate, IReadOnlyList<double> after, EquivalenceLimits limits)
    {
        ArgumentNullException.ThrowIfNull(limits);
        const string What = "A comparison in rounds";
        if ((Finite.Check(before, FewestRounds, What) ?? Finite.Check(candidate, FewestRounds, What) ?? Finite.Check(after, FewestRounds, What)) is { } why)
        {
            return why;
        }

        if (before.Count != candidate.Count || after.Count != candidate.Count
            || !(limits is { MarginMm: > 0, LargestRatio: > 1, NegligibleSigmaMm: > 0, Significance: > 0 and < 0.5 }))
        {
            return Reason.OutOfRange("A comparison in rounds needs one reading of each kind a round, a margin above 0, a ratio above 1, a negligible sigma above 0 and a significance below one half.");
        }

        double[] reference = [.. before.Zip(after, (first, last) => new[] { first, last }).SelectMany(pair => pair)];
        double[] differences = [.. candidate.Select((reading, round) => reading - ((before[round] + after[round]) / 2))];
        return Trend.Of(reference).Then<InterleavedEquivalence>(line => Trend.Of(candidate).Then<InterleavedEquivalence>(other => Judge(
            differences, line.ResidualStandardDeviation!.Value, reference.Length - 2, other.ResidualStandardDeviation!.Value, limits)));
    }

    private static InterleavedEquivalence Judge(double[] differences, double referenceSigma, int referenceFreedom, double sigma, EquivalenceLimits limits)
    {
        int n = differences.Length;
        double mean = Moments.Mean(differences), error = Moments.StandardDeviation(differences) / Math.Sqrt(n);
        double half = error * StudentT.Quantile(1 - limits.Significance, n - 1);
        double p = error > 0
            ? StudentT.Above((limits.MarginMm - Math.Abs(mean)) / error, n - 1)
            : Math.Abs(mean) < limits.MarginMm ? 0 : 1;
        double ratio = sigma / Math.Max(referenceSigma, limits.NegligibleSigmaMm);
        double Limit(double tail) => ratio / Math.Sqrt(FisherF.Quantile(tail, n - 2, referenceFreedom));
        double upper = Limit(limits.Significance);
        double surelyBy = Math.Abs(mean) - (error * StudentT.Quantile(1 - HopelessSignificance, n - 1));
        return new InterleavedEquivalence(
            mean, mean - half, mean + half, p, referenceSigma, sigma, upper,
            p <= limits.Significance,
            upper <= limits.LargestRatio,
            Limit(1 - HopelessSignificance) > limits.LargestRatio || surelyBy > limits.MarginMm);
    }
}
