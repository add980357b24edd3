using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Console.Screens.Pictures.Charts;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>The expected gap from above: coloured by how far it is from the set height, marked where the layer will probably not hold.</summary>
internal static class GapPicture
{
    private const double Sure = 0.95;

    /// <summary>Draws on the whole canvas.</summary>
    public static void Draw(CellCanvas canvas, GapState state, Palette palette)
    {
        double half = Math.Max(state.HighestGapMm - state.SetMm, state.SetMm - state.LowestGapMm);
        var ramp = new Ramp(-1.5 * half, 1.5 * half, true);
        (Rect head, Rect bed, Rect legend, Rect foot) = Areas(canvas.Area);
        canvas.Write(head.Left, head.Top, CellText.Fit(Head(state), head.Columns), Ink.Bold(Role.Text));
        BedFrame frame = BedDrawing.Layout(canvas, bed, state.Bed);
        int fields = HalfBlocks.FieldsIn(frame.Cells.Rows, palette);
        HalfBlocks.Paint(canvas.Part(frame.Cells), ramp, palette, (column, row) => state.Gap.At(frame.PlaceOf(column, row, fields)) - state.SetMm);
        MarkDoubtful(canvas, frame, state, ramp, palette);
        BedDrawing.Hatch(canvas, frame, state.Bed with { Unreachable = [] });
        if (state.Cursor is { } cursor)
        {
            BedDrawing.Mark(canvas, frame, cursor, "┼", new Ink(Role.SelectionText, Role.Selection, Letters.Bold));
        }

        ColourBar.Draw(canvas, new Rect(Math.Min(legend.Left + 1, frame.Cells.Right + 2), legend.Top, legend.Columns - 1, legend.Rows), ramp, "mm off", palette);
        DrawFoot(canvas, foot, state);
    }

    /// <summary>The place that is shown at a cell of an area; null when none is.</summary>
    public static BedPoint? PlaceAt(Rect area, GapState state, int column, int row) =>
        BedDrawing.PlaceAt(Areas(new Rect(0, 0, area.Columns, area.Rows)).Bed, state.Bed, column - area.Left, row - area.Top);

    private static (Rect Head, Rect Bed, Rect Legend, Rect Foot) Areas(Rect whole)
    {
        (Rect head, Rect rest) = whole.CutTop(1);
        (rest, Rect foot) = rest.CutBottom(rest.Rows >= 8 ? 2 : 0);
        (Rect bed, Rect legend) = rest.CutRight(rest.Columns >= 36 && rest.Rows >= 6 ? ColourBar.Columns : 0);
        return (head, bed, legend, foot);
    }

    private static string Head(GapState state)
    {
        double[] known = [.. state.Inside.Values.Where(double.IsFinite)];
        return known.Length == 0
            ? "The gap is not known anywhere"
            : $"Gap {Numbers.Plain(state.LowestGapMm, 2)} to {Numbers.Plain(state.HighestGapMm, 2)} mm sticks: sure on {Numbers.Percent(known.Count(inside => inside >= Sure) / (double)known.Length)} of the bed";
    }

    /// <summary>Arrows where it is not sure that the layer holds: which way the gap errs.</summary>
    private static void MarkDoubtful(CellCanvas canvas, BedFrame frame, GapState state, Ramp ramp, Palette palette)
    {
        for (int row = frame.Cells.Top; row < frame.Cells.Bottom; row++)
        {
            for (int column = frame.Cells.Left + (row % 2); column < frame.Cells.Right; column += 2)
            {
                var place = new BedPoint(frame.X(column), frame.Y(row));
                if (state.Inside.At(place) is var inside && inside < Sure)
                {
                    double off = state.Gap.At(place) - state.SetMm;
                    Colour ground = ramp.Of(off, palette);
                    canvas.Put(column, row, off > 0 ? "▲" : "▼", new Ink(ramp.TextOn(off, palette), ground.Kind == ColourKind.Terminal ? Role.Ground : ground, inside < 0.5 ? Letters.Bold : Letters.Plain));
                }
            }
        }
    }

    private static void DrawFoot(CellCanvas canvas, Rect foot, GapState state)
    {
        if (foot.Rows < 2)
        {
            return;
        }

        canvas.Write(foot.Left, foot.Top, CellText.Fit("▲ perhaps too far, won't stick   ▼ perhaps too near, squeezed out", foot.Columns), Role.Quiet);
        if (state.Cursor is { } cursor)
        {
            double gap = state.Gap.At(cursor);
            canvas.Write(foot.Left, foot.Top + 1, CellText.Fit(
                double.IsFinite(gap)
                    ? $"┼ x {Numbers.Plain(cursor.X, 1)} y {Numbers.Plain(cursor.Y, 1)}: gap {Numbers.Plain(gap)} mm, inside with {Numbers.Percent(state.Inside.At(cursor))}"
                    : $"┼ x {Numbers.Plain(cursor.X, 1)} y {Numbers.Plain(cursor.Y, 1)}: not known",
                foot.Columns), Ink.Bold(Role.Accent));
        }
    }
}
