using System.Globalization;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Verdicts;

/// <summary>
/// Judges a series after each reading and stops at the first reading at which the answer is certain: a sequential likelihood ratio
/// test of sigma (Wald 1947), the place unknown, in which normal, heavy-tailed and outlier-ridden scatter are weighed together and
/// readings on a comb are counted by their teeth. Immutable; judging the same readings twice gives the same verdict.
/// </summary>
public sealed class SequentialSigmaTest
{
    private readonly SigmaBoundary boundary;

    /// <summary>A test against <paramref name="limits"/>.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A limit is outside its range.</exception>
    public SequentialSigmaTest(SigmaLimits limits)
    {
        ArgumentNullException.ThrowIfNull(limits);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(limits.GoodSigma, nameof(limits));
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(limits.BadSigma, limits.GoodSigma, nameof(limits));
        ArgumentOutOfRangeException.ThrowIfEqual(double.IsFinite(limits.BadSigma), false, nameof(limits));
        ArgumentOutOfRangeException.ThrowIfLessThan(limits.Confidence, 0.5, nameof(limits));
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(limits.Confidence, 1, nameof(limits));
        ArgumentOutOfRangeException.ThrowIfLessThan(limits.Cap, 3, nameof(limits));
        Limits = limits;
        boundary = new SigmaBoundary(limits);
    }

    /// <summary>The limits judged against.</summary>
    public SigmaLimits Limits { get; }

    /// <summary>The verdict on <paramref name="readings"/>, in mm and in the order taken; more of them than the cap are all used.</summary>
    public SeriesVerdict Judge(IReadOnlyList<double> readings)
    {
        ArgumentNullException.ThrowIfNull(readings);
        if (SeriesSummary.Of(readings).OrElse(null) is not { } summary)
        {
            string why = readings.Count < 2
                ? "Two readings are needed before scatter can be seen."
                : "A reading is not a usable number: take the series again.";
            return new SeriesVerdict(VerdictState.Undecided, 0.5, why, Limits.Cap - Math.Min(readings.Count, 1), null);
        }

        SigmaEvidence evidence = SigmaEvidence.Of(readings, Limits);
        VerdictState state = Decide(evidence, readings.Count);
        double confidence = state == VerdictState.Undecided
            ? 1 / (1 + Math.Exp(-Math.Abs(evidence.ForFit - evidence.ForNotFit) / 2))
            : Limits.Confidence;
        int needed = state == VerdictState.Undecided ? StillNeeded(evidence, readings.Count) : 0;
        return new SeriesVerdict(
            state,
            confidence,
            Explain(state, summary, needed),
            needed,
            SigmaInterval.Of(summary.StandardDeviation, summary.Count - 1, Limits.Confidence));
    }

    /// <summary>The decision that evidence carries after <paramref name="count"/> readings.</summary>
    private VerdictState Decide(SigmaEvidence evidence, int count)
    {
        bool fit = evidence.ForFit >= boundary.Fit(count);
        bool notFit = evidence.ForNotFit >= boundary.NotFit(count);
        return fit == notFit ? VerdictState.Undecided : fit ? VerdictState.Fit : VerdictState.NotFit;
    }

    /// <summary>About how many more readings decide if they bring evidence at the mean rate of those so far.</summary>
    private int StillNeeded(SigmaEvidence evidence, int count)
    {
        double toFit = Remaining(evidence.ForFit, boundary.Fit(count));
        double toNotFit = Remaining(evidence.ForNotFit, boundary.NotFit(count));
        return (int)Math.Clamp(Math.Ceiling(Math.Min(toFit, toNotFit)), 1, 10 * Limits.Cap);

        double Remaining(double reached, double wanted)
        {
            // Before much is known, the rate that a probe at the limit itself would show is the better guess.
            double usual = 0.25;
            double rate = ((reached / (count - 1)) * count / (count + 5)) + (usual * 5 / (count + 5) * Math.Sign(reached));
            return rate > 0.001 ? Math.Max(1, wanted - reached) / rate : double.PositiveInfinity;
        }
    }

    private string Explain(VerdictState state, SeriesSummary summary, int needed)
    {
        string found = string.Create(CultureInfo.InvariantCulture, $"Standard deviation {summary.StandardDeviation:0.0000} mm after {summary.Count} readings");
        string good = string.Create(CultureInfo.InvariantCulture, $"{Limits.GoodSigma:0.####} mm");
        string bad = string.Create(CultureInfo.InvariantCulture, $"{Limits.BadSigma:0.####} mm");
        string sure = string.Create(CultureInfo.InvariantCulture, $"{Limits.Confidence:0.##%}");
        return state switch
        {
            VerdictState.Fit => $"{found}: repeats as a probe with {good} does; {sure} of such verdicts are right.",
            VerdictState.NotFit => $"{found}: scatters as a probe with {bad} or more does; {sure} of such verdicts are right.",
            _ when summary.Count >= Limits.Cap => $"{found}: between {good} and {bad}; about {needed} more readings would decide.",
            _ => $"{found}: not yet sure; about {needed} more readings would decide.",
        };
    }
}
