using ProbeRunner.Metrology.CaptureComparison;
using ProbeRunner.Records.Comparisons;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Summaries;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>What changed since this machine's bed was captured before. Left out when there is no earlier capture.</summary>
internal static class SinceLastCaptureSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunComparison? since) => since?.Bed is { } bed
        ? Html.Of($"""
            <section aria-labelledby="since"><h2 id="since">Since the last capture</h2>
            <p>{Sentence(bed.Matters)} Compared with run {since.Earlier}: then {since.ConditionsThen}; now {since.ConditionsNow}. {Conditions(since)}</p>
            <div class="scroll"><table>
            <thead><tr><th scope="col">Change</th><th scope="col">mm</th><th scope="col">95 % interval</th><th scope="col">For a first layer</th></tr></thead>
            <tbody>{Html.Join(bed.Terms.Concat(bed.Corners).Append(bed.Local).Select(Row))}</tbody>
            </table></div>
            </section>
            """)
        : Html.Nothing;

    private static Html Row(JudgedChange change) => Html.Of($"""
        <tr><th scope="row">{change.Name}</th><td>{Figures.Signed(change.ChangeMm, 3)}</td><td>{Figures.Signed(change.LowerMm, 3)} to {Figures.Signed(change.UpperMm, 3)}</td><td>{ComparisonSummary.Word(change.Matters)}</td></tr>
        """);

    private static string Sentence(Mattering matters) => matters switch
    {
        Mattering.Yes => "The bed has changed by more than a first layer forgives. Map it again before printing, and look for what moved: a screw, the plate, the gantry.",
        Mattering.Open => "Whether the bed has changed enough to matter stays open; a denser capture would tell.",
        _ => "Nothing has changed that a first layer would show.",
    };

    private static string Conditions(RunComparison since) => since.ConditionsDiffer
        ? "The conditions differ, and a bed takes another shape when it warms: a change may be no more than that."
        : string.Empty;
}
