using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>The correction mesh, as written and as the controller says it has it.</summary>
internal static class MeshSection
{
    /// <summary>Half of the last digit that controllers report; a larger difference is one.</summary>
    private const double SameMm = 0.0006;

    /// <summary>The section.</summary>
    public static Html Render(RunRecord run) => Html.Of($"""
        <section aria-labelledby="mesh"><h2 id="mesh">Correction mesh</h2>
        {(run.Conclusion<MeshConclusion>() is { } mesh ? Found(mesh) : Html.Of($"""<p class="missing">{Verdicts.WhyMissing(run, "The correction mesh")}</p>"""))}
        </section>
        """);

    private static Html Found(MeshConclusion mesh)
    {
        Html byHand = mesh.ByHand.Length > 0 ? Html.Of($"<h3>To do by hand</h3><pre>{new Html(LinesOf(mesh.ByHand))}</pre>") : Html.Nothing;
        string told = mesh.ReadBack is { } back
            ? Differing(mesh.Wanted, back) is var count and > 0
                ? FormattableString.Invariant($"{count} of {mesh.Wanted.Heights.Length} nodes read back differ from what was written; they are framed below.")
                : "Every node read back is what was written."
            : "The controller cannot report its mesh, so it could not be read back.";
        return Html.Of($"""
            <p>{Verdicts.Sentence(mesh.Verdict)}</p>
            <p>With the controller’s interpolation {Figures.Mm(mesh.ResidualRmsMm)} rms of the bed’s shape remain, {Figures.Mm(mesh.ResidualWorstMm)} at worst. {told}</p>
            {byHand}
            {(mesh.StartCode.Length > 0 ? Html.Of($"<h3>For the slicer’s start code</h3><p>{mesh.StartCode}</p>") : Html.Nothing)}
            <div class="scroll">{Table(mesh.Wanted, mesh.ReadBack)}</div>
            """);
    }

    private static Html Table(MeshNodes wanted, MeshNodes? back)
    {
        double X(int column) => wanted.Area.MinX + ((wanted.Area.MaxX - wanted.Area.MinX) * column / Math.Max(1, wanted.Columns - 1));
        double Y(int row) => wanted.Area.MinY + ((wanted.Area.MaxY - wanted.Area.MinY) * row / Math.Max(1, wanted.Rows - 1));
        Html Node(int row, int column)
        {
            int index = (row * wanted.Columns) + column;
            string written = Figures.Signed(wanted.Heights[index], 3);
            return back is null || index >= back.Heights.Length
                ? Html.Of($"""<td class="n">{written}</td>""")
                : Html.Of($"""<td class="n{(Differs(wanted, back, index) ? " differs" : string.Empty)}">{written}<small>{Figures.Signed(back.Heights[index], 3)}</small></td>""");
        }

        return Html.Of($"""
            <table><caption>Nodes in mm, back row on top: as written{(back is null ? string.Empty : ", below it as read back")}</caption>
            <thead><tr><th scope="col" class="n">Y \ X</th>{Html.Each(Enumerable.Range(0, wanted.Columns), column => Html.Of($"""<th scope="col" class="n">{Figures.Number(X(column), 1)}</th>"""))}</tr></thead>
            <tbody>{Html.Each(Enumerable.Range(0, wanted.Rows).Reverse(), row => Html.Of($"""<tr><th scope="row" class="n">{Figures.Number(Y(row), 1)}</th>{Html.Each(Enumerable.Range(0, wanted.Columns), column => Node(row, column))}</tr>"""))}</tbody></table>
            """);
    }

    private static int Differing(MeshNodes wanted, MeshNodes back) => Enumerable.Range(0, wanted.Heights.Length).Count(index => Differs(wanted, back, index));

    private static bool Differs(MeshNodes wanted, MeshNodes back, int index) =>
        index >= back.Heights.Length || !(Math.Abs(wanted.Heights[index] - back.Heights[index]) <= SameMm);

    private static string LinesOf(string text) => string.Join('\n', text.ReplaceLineEndings("\n").Split('\n').Select(line => Html.Of($"{line}").Code));
}
