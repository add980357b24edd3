using System.Collections.Immutable;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>What to do next: the findings, most important first.</summary>
internal static class FindingsSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run)
    {
        ImmutableArray<Finding> findings = Verdicts.Findings(run);
        Html body = findings.IsEmpty
            ? Html.Of($"<p>{(run.Outcome is RunOutcome.Completed ? "Nothing was found that needs doing." : "No step came to a finding before the run ended.")}</p>")
            : Html.Of($"""<ol class="findings">{Html.Each(findings, Item)}</ol>""");
        return Html.Of($"""
            <section aria-labelledby="next"><h2 id="next">What to do next</h2>
            {body}
            </section>
            """);
    }

    private static Html Item(Finding finding)
    {
        string effect = finding.EffectMm is { } mm ? $"{Figures.SignedMm(mm)} at the first layer · " : string.Empty;
        string where = finding.Where.Length > 0 ? $"{finding.Where} · " : string.Empty;
        Html next = finding.Next.Length > 0 ? Html.Of($"""<p class="next">{finding.Next}</p>""") : Html.Nothing;
        return Html.Of($"""<li><b>{finding.Title}</b><p class="sub">{where}{effect}{Figures.Percent(finding.Confidence)} confidence</p><p>{finding.Evidence}</p>{next}</li>""");
    }
}
