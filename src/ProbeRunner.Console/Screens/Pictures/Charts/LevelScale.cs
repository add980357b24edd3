using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Screens.Pictures.Charts;

/// <summary>The colours of a ramp in one row, with the values of its ends.</summary>
internal static class LevelScale
{
    /// <summary>Draws it.</summary>
    public static void Draw(CellCanvas canvas, Rect line, Ramp ramp, Palette palette)
    {
        string low = Numbers.Signed(ramp.Low, 2).Trim();
        string high = $"{Numbers.Signed(ramp.High, 2).Trim()} mm";
        var bar = new Rect(line.Left + low.Length + 1, line.Top, line.Columns - low.Length - high.Length - 2, line.Rows);
        if (bar.Columns < 5 || bar.Rows < 1)
        {
            return;
        }

        canvas.Write(line.Left, line.Top, low, Role.Axis);
        var scale = new Scale(ramp.Low, ramp.High);
        HalfBlocks.Paint(canvas.Part(bar), ramp, palette, (column, _) => scale.ValueAt(column, bar.Columns));
        canvas.Write(bar.Right + 1, line.Top, high, Role.Axis);
    }
}
