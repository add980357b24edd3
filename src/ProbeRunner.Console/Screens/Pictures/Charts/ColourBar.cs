using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Screens.Pictures.Charts;

/// <summary>The scale beside a coloured picture: its colours or characters with their values.</summary>
internal static class ColourBar
{
    /// <summary>Columns it takes.</summary>
    public const int Columns = 10;

    /// <summary>Draws it upright, high values above.</summary>
    public static void Draw(CellCanvas canvas, Rect area, Ramp ramp, string unit, Palette palette)
    {
        if (area.Rows < 3 || area.Columns < 3)
        {
            return;
        }

        Rect bar = area.CutTop(1).Remainder;
        canvas.Write(area.Left, area.Top, CellText.Fit(unit, area.Columns), Role.Axis);
        CellCanvas colours = canvas.Part(new Rect(bar.Left, bar.Top, 2, bar.Rows));
        var scale = new Scale(ramp.Low, ramp.High);
        int fields = HalfBlocks.FieldsIn(colours.Rows, palette);
        HalfBlocks.Paint(colours, ramp, palette, (_, field) => scale.ValueAt(fields - 1 - field, fields));
        int free = bar.Bottom;
        foreach ((double value, string text) in scale.Ticks(Math.Max(2, bar.Rows / 3), ramp.IsDiverging))
        {
            int row = bar.Bottom - 1 - Math.Clamp(scale.CellOf(value, bar.Rows), 0, bar.Rows - 1);
            if (row < free)
            {
                canvas.Write(bar.Left + 3, row, CellText.Fit(text, area.Columns - 3), Role.Axis);
                free = row;
            }
        }
    }
}
