namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>Rules and frames of lines.</summary>
internal static class Frames
{
    /// <summary>A level rule with a title in it.</summary>
    public static void Rule(CellCanvas canvas, Rect area, int row, string title, Ink ink, Ink titleInk)
    {
        canvas.Fill(new Rect(area.Left, row, area.Columns, 1), ink, "─");
        if (title.Length > 0 && area.Columns > 6)
        {
            canvas.Write(area.Left + 2, row, $" {CellText.Fit(title, area.Columns - 6)} ", titleInk);
        }
    }

    /// <summary>A frame around an area, drawn on its outermost cells.</summary>
    public static void Box(CellCanvas canvas, Rect area, string title, Ink ink, Ink titleInk)
    {
        if (area.Columns < 2 || area.Rows < 2)
        {
            return;
        }

        Rule(canvas, area, area.Top, title, ink, titleInk);
        canvas.Fill(new Rect(area.Left, area.Bottom - 1, area.Columns, 1), ink, "─");
        canvas.Fill(new Rect(area.Left, area.Top, 1, area.Rows), ink, "│");
        canvas.Fill(new Rect(area.Right - 1, area.Top, 1, area.Rows), ink, "│");
        canvas.Put(area.Left, area.Top, "╭", ink);
        canvas.Put(area.Right - 1, area.Top, "╮", ink);
        canvas.Put(area.Left, area.Bottom - 1, "╰", ink);
        canvas.Put(area.Right - 1, area.Bottom - 1, "╯", ink);
    }
}
