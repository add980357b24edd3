using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>Under which conditions the results hold, and what happened on the way.</summary>
internal static class ConditionsSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run)
    {
        string[] conditions =
        [
            .. new[] { run.Conclusion<StepDownConclusion>()?.Conditions, run.Conclusion<CaptureConclusion>()?.Conditions }
                .OfType<string>().Where(text => text.Length > 0).Distinct(StringComparer.Ordinal),
        ];
        Html stated = conditions.Length == 0
            ? Html.Of($"""<p class="missing">{Verdicts.WhyMissing(run, "A statement of temperatures, soak and plate")}</p>""")
            : Html.Of($"<ul>{Html.Each(conditions, text => Html.Of($"<li>{text}</li>"))}</ul><p>The results hold for these temperatures and this plate. Changed one of them? Measure again.</p>");
        Html events = run.Interruptions.IsEmpty && run.Sessions.Length < 2
            ? Html.Nothing
            : Html.Of($"""<h3>On the way</h3><ul>{Html.Each(run.Sessions.Skip(1), session => Html.Of($"<li>{Figures.Duration(session.At)}: taken up again.</li>"))}{Html.Each(run.Interruptions, item => Html.Of($"<li>{Figures.Duration(item.At)}: {item.Interruption.What}. {item.Interruption.Why}</li>"))}</ul>""");
        return Html.Of($"""
            <section aria-labelledby="conditions"><h2 id="conditions">Conditions</h2>
            {stated}{events}
            </section>
            """);
    }
}
