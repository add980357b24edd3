using System.Collections.Immutable;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports;

/// <summary>What a run comes to, in words.</summary>
internal static class Verdicts
{
    /// <summary>The judgement of a run: its outcome's, or undecided while it has none.</summary>
    public static StepVerdict Of(RunRecord run) => run.Outcome?.Verdict ?? new StepVerdict(VerdictWord.Undecided, 0, WhyOpen(run));

    /// <summary>A word for a judgement.</summary>
    public static string Word(VerdictWord state) => state switch
    {
        VerdictWord.Fit => "Fit",
        VerdictWord.NotFit => "Not fit",
        _ => "Undecided",
    };

    /// <summary>A sign for a judgement, so that colour is never alone.</summary>
    public static string Sign(VerdictWord state) => state switch
    {
        VerdictWord.Fit => "✓",
        VerdictWord.NotFit => "✗",
        _ => "?",
    };

    /// <summary>The verdict with its confidence, as one sentence; what is simply so has none.</summary>
    public static string Sentence(StepVerdict verdict) => verdict.State == VerdictWord.Undecided || verdict.Confidence >= 1
        ? $"{Word(verdict.State)}: {verdict.Reason}"
        : $"{Word(verdict.State)}, at {Figures.Percent(verdict.Confidence)} confidence: {verdict.Reason}";

    /// <summary>How the run ended or stands, in a sentence.</summary>
    public static string Ending(RunRecord run) => run.Outcome switch
    {
        RunOutcome.Completed done => done.Why,
        RunOutcome.Stopped stopped => $"Stopped by the operator. {stopped.Why}",
        RunOutcome.Halted halted => $"Halted by the operator: motors and heaters were cut and the position was lost. {halted.Why}",
        RunOutcome.Faulted faulted => $"The machine, the link or the store failed. {faulted.Why}",
        _ => WhyOpen(run),
    };

    /// <summary>Every finding, once each, the most important first: what is certain and large comes before what is small or doubtful.</summary>
    public static ImmutableArray<Finding> Findings(RunRecord run) =>
    [
        .. run.Steps
            .SelectMany(step => step.Conclusion?.Findings ?? [])
            .GroupBy(finding => (finding.Id, finding.Where))
            .Select(same => same.Last())
            .OrderByDescending(finding => Math.Abs(finding.EffectMm ?? 0) * finding.Confidence)
            .ThenByDescending(finding => finding.Confidence),
    ];

    /// <summary>Why something that a reader looks for is not in the record.</summary>
    /// <param name="run">The run.</param>
    /// <param name="what">What is missing, as the start of a sentence: "The Z offset".</param>
    public static string WhyMissing(RunRecord run, string what)
    {
        if (run.Outcome is RunOutcome.Completed)
        {
            return $"{what} is not part of this run: its script has no step that gives one.";
        }

        StepRecord? last = run.Steps.LastOrDefault();
        string reached = last is null ? "before any step began"
            : last.EndedAt is null ? $"in the step \u201C{last.Title}\u201D" : $"after the step \u201C{last.Title}\u201D";
        return run.State == RunState.Running
            ? $"{what} is not there yet: the run is still going on."
            : $"{what} is missing: the run {How(run)} {reached}.";
    }

    private static string How(RunRecord run) => run.Outcome switch
    {
        RunOutcome.Stopped => "was stopped by the operator",
        RunOutcome.Halted => "was halted by the operator",
        RunOutcome.Faulted => "failed",
        _ => run.State == RunState.Damaged ? "cannot be read beyond a damaged row" : "was interrupted",
    };

    private static string WhyOpen(RunRecord run) => run.State switch
    {
        RunState.Running => "The run is still going on; this page shows it as far as it has come.",
        RunState.Damaged => FormattableString.Invariant($"The stored record is damaged from row {run.DamagedFrom} on; this page shows only what comes before."),
        _ => "The run was interrupted and has no outcome. Make sure that the machine's heaters are off, then resume it.",
    };
}
