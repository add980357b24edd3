using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>The first layer: how each patch looked and what that says of the offset. Left out when the run had no such step.</summary>
internal static class FirstLayerSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run) => run.Conclusion<FirstLayerConclusion>() is { } layer
        ? Html.Of($"""
            <section aria-labelledby="first-layer"><h2 id="first-layer">First layer</h2>
            <p>{Verdicts.Sentence(layer.Verdict)}</p>
            <p>Correction of the Z offset {Figures.SignedMm(layer.CorrectionMm)}, between {Figures.SignedMm(layer.LowerMm)} and {Figures.SignedMm(layer.UpperMm)} with 95 % confidence; {(layer.FoldedIn ? "added to the offset" : "not added to the offset")}. {layer.Conditions}.</p>
            <div class="scroll"><table><caption>Patches in the order they were laid</caption>
            <thead><tr><th scope="col">Where</th><th scope="col" class="n">Height, mm</th><th scope="col">Looks</th></tr></thead>
            <tbody>{Html.Each(layer.Patches, patch => Html.Of($"""<tr><td>{Figures.Place(patch.Place.X, patch.Place.Y)}</td><td class="n">{Figures.Number(patch.HeightMm, 3)}</td><td>{patch.Look}</td></tr>"""))}</tbody></table></div>
            </section>
            """)
        : Html.Nothing;
}
