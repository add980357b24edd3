namespace ProbeRunner.Procedures.Conclusions;

/// <summary>One conclusion for a person.</summary>
/// <param name="Id">Stable dotted name.</param>
/// <param name="Title">What it is, in a sentence.</param>
/// <param name="EffectMm">What it does to the first layer, mm; null where it cannot be said in mm.</param>
/// <param name="Where">Where on the machine; empty for everywhere.</param>
/// <param name="Confidence">0 to 1.</param>
/// <param name="Evidence">What was measured, in a sentence with its numbers.</param>
/// <param name="Next">The next thing to do.</param>
public sealed record Finding(string Id, string Title, double? EffectMm, string Where, double Confidence, string Evidence, string Next);

/// <summary>Fit, not fit, or not known yet.</summary>
public enum VerdictWord
{
    /// <summary>Good enough, at the stated confidence.</summary>
    Fit,

    /// <summary>Not good enough, at the stated confidence.</summary>
    NotFit,

    /// <summary>More readings are needed, or the question could not be put.</summary>
    Undecided,
}

/// <summary>A judgement on a step's result.</summary>
/// <param name="State">The judgement.</param>
/// <param name="Confidence">0 to 1; for <see cref="VerdictWord.Undecided"/> what was reached.</param>
/// <param name="Reason">Why, in a sentence with its numbers.</param>
public sealed record StepVerdict(VerdictWord State, double Confidence, string Reason);
