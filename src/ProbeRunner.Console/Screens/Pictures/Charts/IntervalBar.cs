using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Screens.Pictures.Charts;

/// <summary>An interval on a level scale, with its best value: ├──●──┤.</summary>
internal static class IntervalBar
{
    /// <summary>Draws it on one row; what lies off the scale ends in an arrow.</summary>
    public static void Draw(CellCanvas canvas, Rect line, Scale scale, double lower, double value, double upper, Ink ink)
    {
        if (line.IsEmpty || !double.IsFinite(value))
        {
            return;
        }

        int from = Cell(lower, scale, line);
        int to = Cell(upper, scale, line);
        for (int column = Math.Max(from, line.Left); column <= Math.Min(to, line.Right - 1); column++)
        {
            canvas.Put(column, line.Top, "─", ink);
        }

        End(canvas, line, from, "├", ink);
        End(canvas, line, to, "┤", ink);
        End(canvas, line, Cell(value, scale, line), "●", ink);
    }

    private static void End(CellCanvas canvas, Rect line, int column, string mark, Ink ink) => canvas.Put(
        Math.Clamp(column, line.Left, line.Right - 1), line.Top, column < line.Left ? "◀" : column >= line.Right ? "▶" : mark, ink);

    private static int Cell(double value, Scale scale, Rect line) => line.Left + scale.CellOf(double.IsNaN(value) ? scale.Low : value, line.Columns);
}
