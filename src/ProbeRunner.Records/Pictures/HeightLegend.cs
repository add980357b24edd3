using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Pictures;

/// <summary>The colour scale below a bed map, with its numbers.</summary>
internal static class HeightLegend
{
    /// <summary>Draws it.</summary>
    public static Html Draw(Plate plate, HeightScale scale)
    {
        const int parts = 40;
        double width = plate.Width * 0.7;
        double left = plate.X((plate.Area.MinX + plate.Area.MaxX) / 2) - (width / 2);
        double top = plate.Y(plate.Area.MinY) + 24;
        double HeightOf(int part) => scale.ReachMm * (((part + 0.5) / parts * 2) - 1);
        Html bar = Html.Each(Enumerable.Range(0, parts), part => Html.Of(
            $"""<rect fill="{scale.Colour(HeightOf(part))}" x="{left + (width * part / parts)}" y="{top}" width="{(width / parts) + 0.3}" height="6"/>"""));
        double step = Ticks.Step(2 * scale.ReachMm, 5);
        Html labels = Html.Each(Ticks.Within(-scale.ReachMm, scale.ReachMm, step), level =>
        {
            double x = left + (width * ((level / scale.ReachMm) + 1) / 2);
            return Html.Of($"""<path class="tick" d="M{x} {top + 6}v2"/><text class="tick-x" x="{x}" y="{top + 15}">{Figures.Signed(level, Ticks.Decimals(step))}</text>""");
        });
        return Html.Of($"""{bar}<rect class="edge" x="{left}" y="{top}" width="{width}" height="6"/>{labels}<text class="tick-y" x="{left - 3}" y="{top + 5.5}">low</text><text class="unit" x="{left + width + 3}" y="{top + 5.5}">high, mm</text>""");
    }
}
