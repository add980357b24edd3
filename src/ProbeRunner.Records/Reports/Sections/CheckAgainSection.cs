using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>What changed since an earlier capture. Left out when the run had no such step.</summary>
internal static class CheckAgainSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run) => run.Conclusion<CheckAgainConclusion>() is { } check
        ? Html.Of($"""
            <section aria-labelledby="check-again"><h2 id="check-again">Checked again</h2>
            <p>{Verdicts.Sentence(check.Verdict)}</p>
            <p>Against run {check.AgainstRun}. Then: {check.ConditionsThen}; now: {check.ConditionsNow}. Probe: s = {Figures.Mm(check.SigmaNowMm, 4)} now{Then(check)}</p>
            <div class="scroll"><table><caption>Changes of the bed, now less then, in mm; the limits of terms, and those of corners, hold together at 95 %. A change within {Figures.Mm(check.ToleranceMm)} does not matter.</caption>
            <thead><tr><th scope="col">What</th><th scope="col" class="n">Change</th><th scope="col" class="n">from … to</th><th scope="col">Matters</th></tr></thead>
            <tbody>{Html.Each(check.Changes, change => Html.Of($"""<tr><th scope="row">{change.Name}</th><td class="n">{Figures.Signed(change.ChangeMm, 3)}</td><td class="n">{Figures.Signed(change.LowerMm, 3)} … {Figures.Signed(change.UpperMm, 3)}</td><td>{change.Matters}</td></tr>"""))}</tbody></table></div>
            </section>
            """)
        : Html.Nothing;

    private static string Then(CheckAgainConclusion check) => check is { SigmaThenMm: { } then, SigmaRatioLower: { } lower, SigmaRatioUpper: { } upper }
        ? $", {Figures.Mm(then, 4)} then; the ratio lies between {Figures.Number(lower, 2)} and {Figures.Number(upper, 2)} with 95 % confidence."
        : "; no series of then to compare it with.";
}
