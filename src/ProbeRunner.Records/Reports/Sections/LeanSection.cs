using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Pictures;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>The lean along the gantry: each visit, the line through them, and what it does at the bed's sides. Left out when the run had no such step.</summary>
internal static class LeanSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run) => run.Conclusion<LeanConclusion>() is { } lean
        ? Html.Of($"""
            <section aria-labelledby="lean"><h2 id="lean">Lean along the gantry</h2>
            <p>{Verdicts.Sentence(lean.Verdict)}</p>
            {Html.Each(lean.Axes, Axis)}
            <p class="note">Taken with {lean.Conditions}.</p>
            </section>
            """)
        : Html.Nothing;

    private static Html Axis(LeanAlongAxis axis)
    {
        (string near, string far) = axis.Axis == "X" ? ("left", "right") : ("front", "back");
        return Html.Of($"""
            <figure>{LeanPlot.Draw(axis)}<figcaption>Height of the nozzle at the trigger above the height at which paper drags, at each place along {axis.Axis}; the line is the best through them.</figcaption></figure>
            <div class="scroll"><table><caption>Along {axis.Axis}; changes from the bed’s middle, + is farther from the bed when the probe’s readings are followed</caption>
            <tbody>
            <tr><th scope="row">slope, 95 % interval</th><td class="n">{Figures.Signed(axis.SlopeMmPerMm * 1000, 3)} ({Figures.Signed(axis.LowerMmPerMm * 1000, 3)} to {Figures.Signed(axis.UpperMmPerMm * 1000, 3)}) µm per mm</td></tr>
            <tr><th scope="row">at the {near} side</th><td class="n">{Figures.SignedMm(axis.AtNearSideMm)}</td></tr>
            <tr><th scope="row">at the {far} side</th><td class="n">{Figures.SignedMm(axis.AtFarSideMm)}</td></tr>
            <tr><th scope="row">degrees of freedom</th><td class="n">{Figures.Number(axis.DegreesOfFreedom, 0)}</td></tr>
            </tbody></table></div>
            """);
    }
}
