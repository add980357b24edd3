using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Pictures;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>The bed: its map and its shape.</summary>
internal static class BedSection
{
    /// <summary>The section.</summary>
    public static Html Render(RunRecord run, MachineProfile? machine) => Html.Of($"""
        <section aria-labelledby="bed"><h2 id="bed">Bed</h2>
        {(run.Conclusion<CaptureConclusion>() is { Map.Heights.IsEmpty: false } capture && capture.Map.Heights.Length == capture.Map.Columns * capture.Map.Rows ? Found(capture, machine) : Html.Of($"""<p class="missing">{Verdicts.WhyMissing(run, "The bed map")}</p>"""))}
        </section>
        """);

    private static Html Found(CaptureConclusion capture, MachineProfile? machine)
    {
        string grid = capture is { Columns: > 0, Rows: > 0 }
            ? FormattableString.Invariant($"a grid of {capture.Columns} × {capture.Rows} places")
            : "places chosen as it went";
        Html unknown = machine is null
            ? Html.Of($"""<p class="note">The machine’s profile kept with this run cannot be read by this version: plate, clips and screws are not drawn.</p>""")
            : Html.Nothing;
        return Html.Of($"""
            <p>{Verdicts.Sentence(capture.Verdict)}</p>
            <p>From left to right the bed rises by {Figures.SignedMm(capture.TiltXMm)}, from front to back by {Figures.SignedMm(capture.TiltYMm)}, over the captured area. Without that tilt it is flat within {Figures.Mm(capture.FlatnessMm)} (minimum zone), {Figures.Mm(capture.RmsMm)} rms.</p>
            <figure>{BedMap.Draw(capture, machine)}
            <figcaption>Seen from above, the front edge below; heights relative to the homing place (diamond). Dots: probed places; ×: a reading that needed a second touch. Lines join equal heights, the thick one is zero. Hatched: out of the probe’s reach or not captured; cross-hatched: clips. Circles with a slot: adjusting screws. {Certainty(capture.Map)}</figcaption></figure>
            {unknown}
            {(capture.Details is { } details ? CaptureDetailsPart.Render(details) : Html.Nothing)}
            {Lattice(capture.Map)}
            """);
    }

    private static string Certainty(SurfaceMap map) => map.Uncertainties.IsEmpty
        ? string.Empty
        : $"Standard uncertainty of the map: {Figures.Mm(map.Uncertainties.Min())} at best, {Figures.Mm(map.Uncertainties.Max())} at worst.";

    private static Html Lattice(SurfaceMap map)
    {
        int[] columns = Spread(map.Columns);
        int[] rows = [.. Spread(map.Rows).Reverse()];
        double X(int column) => map.Area.MinX + ((map.Area.MaxX - map.Area.MinX) * column / Math.Max(1, map.Columns - 1));
        double Y(int row) => map.Area.MinY + ((map.Area.MaxY - map.Area.MinY) * row / Math.Max(1, map.Rows - 1));
        return Html.Of($"""
            <details><summary>The map as numbers</summary><div class="scroll"><table><caption>Heights in mm relative to the homing place; back row on top</caption>
            <thead><tr><th scope="col" class="n">Y \ X</th>{Html.Each(columns, column => Html.Of($"""<th scope="col" class="n">{Figures.Number(X(column), 1)}</th>"""))}</tr></thead>
            <tbody>{Html.Each(rows, row => Html.Of($"""<tr><th scope="row" class="n">{Figures.Number(Y(row), 1)}</th>{Html.Each(columns, column => Html.Of($"""<td class="n">{Figures.Signed(map.Heights[(row * map.Columns) + column], 3)}</td>"""))}</tr>"""))}</tbody></table></div></details>
            """);
    }

    private static int[] Spread(int count)
    {
        int shown = Math.Min(count, 11);
        return shown < 2 ? [0] : [.. Enumerable.Range(0, shown).Select(at => (int)Math.Round((count - 1) * (double)at / (shown - 1)))];
    }
}
