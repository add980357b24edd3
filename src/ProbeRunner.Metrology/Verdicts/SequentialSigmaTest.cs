using System.Globalization;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Verdicts;

/// <summary>
/// Judges a series after each reading and stops at the first reading at which the answer is certain.
/// Immutable; judging the same readings twice gives the same verdict.
/// </summary>
public sealed class SequentialSigmaTest
{
    private const double FitAtOrBelow = -2.734;
    private const double NotFitAtOrAbove = 1.827;

    /// <summary>A test against <paramref name="limits"/>.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A limit is outside its range.</exception>
    public SequentialSigmaTest(SigmaLimits limits)
    {
        ArgumentNullException.ThrowIfNull(limits);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(limits.GoodSigma, nameof(limits));
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(limits.BadSigma, limits.GoodSigma, nameof(limits));
        ArgumentOutOfRangeException.ThrowIfLessThan(limits.Confidence, 0.5, nameof(limits));
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(limits.Confidence, 1, nameof(limits));
        ArgumentOutOfRangeException.ThrowIfLessThan(limits.Cap, 3, nameof(limits));
        Limits = limits;
    }

    /// <summary>The limits judged against.</summary>
    public SigmaLimits Limits { get; }

    /// <summary>The verdict on <paramref name="readings"/>, in mm and in the order taken.</summary>
    public SeriesVerdict Judge(IReadOnlyList<double> readings)
    {
        ArgumentNullException.ThrowIfNull(readings);
        if (readings.Any(r => !double.IsFinite(r)))
        {
            return new SeriesVerdict(VerdictState.Undecided, 0.5, "A reading is not a number: take the series again.", Limits.Cap, null);
        }

        if (readings.Count < 2)
        {
            return new SeriesVerdict(VerdictState.Undecided, 0.5, "Two readings are needed before scatter can be seen.", 5, null);
        }

        int freedom = readings.Count - 1;
        double squares = Moments.SquaredDeviations(readings);
        double sigma = Math.Sqrt(squares / freedom);
        SigmaInterval interval = SigmaInterval.Of(sigma, freedom, Limits.Confidence);
        double good = Limits.GoodSigma;
        double bad = Limits.BadSigma;
        double evidence = (freedom * Math.Log(good / bad)) + (squares / 2 * ((1 / (good * good)) - (1 / (bad * bad))));
        VerdictState state = evidence >= NotFitAtOrAbove ? VerdictState.NotFit
            : evidence <= FitAtOrBelow ? VerdictState.Fit
            : VerdictState.Undecided;
        double confidence = state == VerdictState.Undecided ? 1 / (1 + Math.Exp(-Math.Abs(evidence))) : Limits.Confidence;
        string reason = string.Create(
            CultureInfo.InvariantCulture,
            $"Scatter {sigma:0.0000} mm after {readings.Count} readings; {good:0.0000} is good, {bad:0.0000} is bad.");
        return new SeriesVerdict(state, confidence, reason, state == VerdictState.Undecided ? 3 : 0, interval);
    }
}
