using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps;

/// <summary>Makers of verdicts and plain conclusions.</summary>
internal static class Verdicts
{
    /// <summary>Fit.</summary>
    public static StepVerdict Fit(string reason, double confidence = 1) => new(VerdictWord.Fit, confidence, reason);

    /// <summary>Not fit.</summary>
    public static StepVerdict NotFit(string reason, double confidence = 1) => new(VerdictWord.NotFit, confidence, reason);

    /// <summary>Undecided.</summary>
    public static StepVerdict Undecided(string reason, double confidence = 0.5) => new(VerdictWord.Undecided, confidence, reason);

    /// <summary>Done, nothing measured.</summary>
    public static PlainConclusion Done(string reason) => new(Fit(reason), []);

    /// <summary>Not fit for a single reason that is a finding too.</summary>
    public static PlainConclusion Failed(Finding finding) => new(NotFit(finding.Title, finding.Confidence), [finding]);
}
