using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>Where the probe sits beside the nozzle. Left out when the run had no such step.</summary>
internal static class ProbePlaceSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run) => run.Conclusion<XyOffsetConclusion>() is { } offset
        ? Html.Of($"""
            <section aria-labelledby="probe-place"><h2 id="probe-place">Probe offset in X and Y</h2>
            <p>{Verdicts.Sentence(offset.Verdict)}</p>
            <figure class="scroll"><pre>{string.Join('\n', offset.Drawing)}</pre><figcaption>N: nozzle, P: probe. Not to scale.</figcaption></figure>
            </section>
            """)
        : Html.Nothing;
}
