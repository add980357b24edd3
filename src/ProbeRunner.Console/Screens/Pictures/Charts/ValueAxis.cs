using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Screens.Pictures.Charts;

/// <summary>An upright axis with its ticks at the left of a chart.</summary>
internal static class ValueAxis
{
    /// <summary>Draws the axis at the left of an area.</summary>
    /// <returns>The area right of it, for the curve.</returns>
    public static Rect DrawLeft(CellCanvas canvas, Rect area, Scale scale, bool isSigned)
    {
        IReadOnlyList<(double Value, string Text)> ticks = scale.Ticks(Math.Max(2, area.Rows / 3), isSigned);
        int widest = ticks.Select(tick => tick.Text.Length).DefaultIfEmpty(0).Max();
        if (area.Columns < widest + 8)
        {
            return area;
        }

        (Rect left, Rect chart) = area.CutLeft(widest + 1);
        canvas.Fill(new Rect(left.Right - 1, area.Top, 1, area.Rows), Role.Frame, "│");
        foreach ((double value, string text) in ticks)
        {
            int row = RowOf(value, scale, area);
            if (area.Contains(area.Left, row))
            {
                canvas.WriteLeftOf(left.Right - 1, row, text, Role.Axis);
                canvas.Put(left.Right - 1, row, "┤", Role.Frame);
            }
        }

        return chart;
    }

    /// <summary>Writes the ticks of a level axis on the row below an area.</summary>
    public static void DrawBelow(CellCanvas canvas, Rect chart, Scale scale, string unit)
    {
        int free = chart.Left;
        int end = chart.Right - CellText.Cells(unit) - 1;
        foreach ((double value, string text) in scale.Ticks(Math.Max(2, chart.Columns / 12)))
        {
            int at = chart.Left + Math.Clamp(scale.CellOf(value, chart.Columns), 0, Math.Max(0, chart.Columns - 1)) - (text.Length / 2);
            if (at >= free && at + text.Length <= end)
            {
                free = canvas.Write(at, chart.Bottom, text, Role.Axis) + 1;
            }
        }

        canvas.WriteLeftOf(chart.Right, chart.Bottom, unit, Role.Axis);
    }

    /// <summary>The row of a value, high values above; outside the area when the value is off the scale.</summary>
    public static int RowOf(double value, Scale scale, Rect area) => area.Bottom - 1 - scale.CellOf(value, area.Rows);
}
