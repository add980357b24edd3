using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Steps;

namespace ProbeRunner.Procedures.Engine;

/// <summary>The run's judgement from its steps': the worst counts, and it is as sure as its least sure part.</summary>
internal static class RunVerdict
{
    /// <summary>Judges a run that may have been cut off: what was not done is not known.</summary>
    /// <param name="concluded">The steps done, with what they concluded.</param>
    /// <param name="planned">How many there are.</param>
    public static StepVerdict Of(IReadOnlyList<(Step Step, StepConclusion Conclusion)> concluded, int planned)
    {
        StepVerdict soFar = Of(concluded);
        return soFar.State == VerdictWord.Fit && concluded.Count < planned
            ? new StepVerdict(VerdictWord.Undecided, 0, $"{concluded.Count} of {planned} steps were done; those came out fit.")
            : soFar;
    }

    /// <summary>Judges the steps done.</summary>
    public static StepVerdict Of(IReadOnlyList<(Step Step, StepConclusion Conclusion)> concluded)
    {
        var notFit = concluded.Where(pair => pair.Conclusion.Verdict.State == VerdictWord.NotFit).ToList();
        if (notFit.Count > 0)
        {
            StepVerdict worst = notFit[0].Conclusion.Verdict;
            return new StepVerdict(VerdictWord.NotFit, worst.Confidence, $"{notFit[0].Step.Title}: {worst.Reason}");
        }

        var undecided = concluded.Where(pair => pair.Conclusion.Verdict.State == VerdictWord.Undecided).ToList();
        if (undecided.Count > 0 || concluded.Count == 0)
        {
            return undecided.Count == 0
                ? new StepVerdict(VerdictWord.Undecided, 0, "No step came to a conclusion.")
                : new StepVerdict(VerdictWord.Undecided, undecided[0].Conclusion.Verdict.Confidence, $"{undecided[0].Step.Title}: {undecided[0].Conclusion.Verdict.Reason}");
        }

        return new StepVerdict(VerdictWord.Fit, concluded.Min(pair => pair.Conclusion.Verdict.Confidence), "Every step came out fit.");
    }
}
