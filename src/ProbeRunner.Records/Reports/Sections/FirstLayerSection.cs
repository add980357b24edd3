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
            {Checks(layer)}
            </section>
            """)
        : Html.Nothing;

    private static Html Checks(FirstLayerConclusion layer) => layer.Checks is not { Count: > 0 } checks
        ? Html.Nothing
        : Html.Of($"""
            <h3>The predicted gap map, checked by patches</h3>
            <p>At the places where the map is most doubtful two patches were laid, one near each end of the adhesion window. {(checks.Any(check => check.Says != MapCheck.Agrees) ? "They contradict the map where it says so below." : "They agree with the map.")}</p>
            <div class="scroll"><table><caption>Gap at the set height, and how far the looks let it differ</caption>
            <thead><tr><th scope="col">Where</th><th scope="col" class="n">Predicted, mm</th><th scope="col" class="n">± (k = 2), mm</th><th scope="col" class="n">Wider by at least, mm</th><th scope="col" class="n">At most, mm</th><th scope="col">The bed is</th></tr></thead>
            <tbody>{Html.Each(checks, check => Html.Of($"""<tr><td>{Figures.Place(check.Place.X, check.Place.Y)}</td><td class="n">{Figures.Number(check.PredictedGapMm, 3)}</td><td class="n">{Figures.Number(2 * check.UncertaintyMm, 3)}</td><td class="n">{Bound(check.LeastMm)}</td><td class="n">{Bound(check.MostMm)}</td><td>{Says(check.Says)}</td></tr>"""))}</tbody></table></div>
            """);

    private static string Bound(double? mm) => mm is { } known ? Figures.Signed(known, 3) : "not said";

    private static string Says(string says) => says switch
    {
        MapCheck.Nearer => "nearer than the map says",
        MapCheck.Farther => "farther than the map says",
        _ => "where the map says",
    };
}
