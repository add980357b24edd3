using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Verdicts;

/// <summary>The three conclusions of a series.</summary>
public enum VerdictState
{
    /// <summary>Not enough is known at the confidence asked for.</summary>
    Undecided,

    /// <summary>Repeats as well as the good limit asks.</summary>
    Fit,

    /// <summary>Scatters as the bad limit does, or more.</summary>
    NotFit,
}

/// <summary>What a series says about the probe so far.</summary>
/// <param name="State">Fit, not fit or undecided.</param>
/// <param name="Confidence">When decided, one less the error rate the test keeps under repeated looks; when undecided, how far the evidence leans, 0.5 to 1.</param>
/// <param name="Reason">One or two sentences for a person.</param>
/// <param name="ReadingsStillNeeded">0 when decided; else about how many more readings would decide.</param>
/// <param name="Sigma">Interval of the standard deviation from the readings so far; null before the second reading.</param>
public sealed record SeriesVerdict(VerdictState State, double Confidence, string Reason, int ReadingsStillNeeded, SigmaInterval? Sigma);
