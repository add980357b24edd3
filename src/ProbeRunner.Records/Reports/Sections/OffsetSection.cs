using System.Collections.Immutable;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Pictures;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>The Z offset: how it came about, how sure it is and why, and whether it was proven.</summary>
internal static class OffsetSection
{
    private const double CoverageFactor = 2;

    /// <summary>The section.</summary>
    public static Html Render(RunRecord run) => Html.Of($"""
        <section aria-labelledby="offset"><h2 id="offset">Z offset</h2>
        {(run.Conclusion<StepDownConclusion>() is { } stepDown ? Found(run, stepDown) : Html.Of($"""<p class="missing">{Verdicts.WhyMissing(run, "The Z offset")}</p>"""))}
        </section>
        """);

    private static Html Found(RunRecord run, StepDownConclusion found)
    {
        string provisional = found.Provisional ? "Provisional: taken under other conditions than printing. Take it again as you print." : string.Empty;
        int farAbove = found.Answers.Length - StepDownLadder.Drawn(found).Length;
        string left = farAbove == 0 ? string.Empty : FormattableString.Invariant($" {farAbove} answers farther away are not drawn.");
        Html ladder = farAbove == found.Answers.Length ? Html.Nothing : Html.Of($"""
            <figure class="scroll">{StepDownLadder.Draw(found)}<figcaption>The heights at which you were asked, and what the paper did. Shaded: the drag height ± {Figures.Mm(CoverageFactor * found.StandardUncertaintyMm)}.{left}</figcaption></figure>
            """);
        return Html.Of($"""
            <p>The Z offset found is <b>{Figures.SignedMm(found.OffsetMm)} ± {Figures.Mm(CoverageFactor * found.StandardUncertaintyMm)}</b> (coverage factor 2, about 95 %). The verdict on it: {Verdicts.Sentence(found.Verdict)}{(run.Conclusion<SettingsConclusion>() is null ? " No step of this run stored it for good." : string.Empty)}</p>
            <p class="mono">(drag {Figures.Number(found.DragHeightMm, 3)} − touch {Figures.Number(found.TouchHeightMm, 3)}){(IsTouching(found) ? $" − paper {Figures.Number(found.PaperThicknessMm, 3)}" : string.Empty)} = {Figures.SignedMm(found.OffsetMm)}</p>
            <p>With it the nozzle {(IsTouching(found) ? "just touches the bed" : "stands one paper above the bed, which just drags,")} at Z = 0.{(found.Gauge.Length == 0 ? string.Empty : $" Under the nozzle lay {found.Gauge}.")}</p>
            <p class="sub">At {Figures.Place(found.Place.X, found.Place.Y)}. {Sentence(found.Conditions)} {provisional}</p>
            <div class="pair">{ladder}<div>{Budget(found)}{Takes(found.TakeOffsetsMm)}{Person(found.Person)}</div></div>
            {Proof(run)}
            """);
    }

    private static bool IsTouching(StepDownConclusion found) => found.ZeroMeans == "touching";

    private static Html Person(PersonScatter? person) => person is null ? Html.Nothing : Html.Of($"""
        <p class="note">Your own repeatability: a standard deviation of {Figures.Mm(person.SigmaMm)}, between {Figures.Mm(person.LowerMm)} and {Figures.Mm(person.UpperMm)} with 95 % confidence. About {Figures.Mm(0.02)} is usual; more answers make up for more.</p>
        """);

    private static string Sentence(string text) => text.Length == 0 || text[^1] == '.' ? text : char.ToUpperInvariant(text[0]) + text[1..] + ".";

    private static Html Budget(StepDownConclusion found) => Html.Of($"""
        <table><caption>What its standard uncertainty u is made of</caption>
        <thead><tr><th scope="col">Contribution</th><th scope="col" class="n">u, mm</th><th scope="col">Share</th></tr></thead>
        <tbody>{Html.Each(found.Contributions.OrderByDescending(line => line.Share), line => Html.Of($"""<tr><th scope="row">{line.Name}</th><td class="n">{Figures.Number(line.StandardUncertaintyMm, 4)}</td><td class="share"><span class="bar" style="width:{Math.Clamp(line.Share, 0, 1) * 4}rem"></span> {Figures.Percent(line.Share)}</td></tr>"""))}
        <tr><th scope="row">Combined</th><td class="n">{Figures.Number(found.StandardUncertaintyMm, 4)}</td><td></td></tr></tbody></table>
        """);

    private static Html Takes(ImmutableArray<double> takes) => takes.Length < 2 ? Html.Nothing : Html.Of($"""
        <p class="note">The takes agree within {Figures.Mm(takes.Max() - takes.Min())}:</p>
        <table>
        <thead><tr><th scope="col" class="n">Take</th><th scope="col" class="n">Offset, mm</th></tr></thead>
        <tbody>{Html.Each(takes.Index(), take => Html.Of($"""<tr><th scope="row" class="n">{take.Index + 1}</th><td class="n">{Figures.Signed(take.Item, 3)}</td></tr>"""))}</tbody></table>
        """);

    private static Html Proof(RunRecord run) => run.Conclusion<VerifyConclusion>() is { } proof
        ? Html.Of($"<h3>Proven after a new homing</h3><p>Paper dragged at nozzle Z {Figures.Mm(proof.PaperHeightMm)}, {Figures.SignedMm(proof.DifferenceMm)} from what the offset promises. {Verdicts.Sentence(proof.Verdict)}</p>")
        : Html.Of($"""<h3>Not proven</h3><p class="missing">{Verdicts.WhyMissing(run, "The proof of the offset after a new homing")} Treat the offset as unverified: keep a hand at the mains switch when the nozzle first goes near the bed.</p>""");
}
