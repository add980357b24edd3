using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>The verdict, first and in a sentence; an alarm before it.</summary>
internal static class VerdictSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run)
    {
        StepVerdict verdict = Verdicts.Of(run);
        Html alarm = run.Outcome is RunOutcome.Faulted { Alarm.Length: > 0 } faulted
            ? Html.Of($"""<div class="alarm" role="alert">{faulted.Alarm}</div>""")
            : Html.Nothing;
        Html ending = run.Outcome is null ? Html.Nothing : Html.Of($"<p>{Verdicts.Ending(run)}</p>");
        Html broken = run.DamagedFrom is { } ordinal
            ? Html.Of($"""<p class="missing">The stored record is damaged from row {ordinal} on. Only what comes before is shown; the run cannot be resumed.</p>""")
            : Html.Nothing;
        return Html.Of($"""
            <section aria-label="Verdict">
            {alarm}
            <div class="verdict {Class(verdict.State)}"><span class="sign" aria-hidden="true">{Verdicts.Sign(verdict.State)}</span><div><p class="word">{Verdicts.Sentence(verdict)}</p>{ending}</div></div>
            {broken}
            </section>
            """);
    }

    private static string Class(VerdictWord state) => state switch
    {
        VerdictWord.Fit => "fit",
        VerdictWord.NotFit => "not-fit",
        _ => "undecided",
    };
}
