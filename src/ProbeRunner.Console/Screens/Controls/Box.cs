using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Screens.Controls;

/// <summary>The boxes of dialogs and panes.</summary>
internal static class Box
{
    /// <summary>A dialog's box in the middle, blank inside.</summary>
    /// <returns>The room in it.</returns>
    public static Rect Centred(CellCanvas canvas, int columns, int rows, string title)
    {
        var outer = new Rect((canvas.Columns - columns) / 2, Math.Max(0, (canvas.Rows - rows) / 2), columns, Math.Min(rows, canvas.Rows));
        canvas.Fill(outer, Role.Text);
        Frames.Box(canvas, outer, title, Role.Accent, Ink.Bold(Role.Accent));
        return outer.Inset(2, 1);
    }

    /// <summary>A pane: a titled rule on top, the room below it.</summary>
    /// <returns>The room in it.</returns>
    public static Rect Pane(CellCanvas canvas, Rect area, string title, bool hasFocus = false)
    {
        if (area.IsEmpty)
        {
            return area;
        }

        Frames.Rule(canvas, area, area.Top, title, hasFocus ? Role.Accent : Role.Frame, hasFocus ? Ink.Bold(Role.Accent) : Ink.Bold(Role.Text));
        return area.CutTop(1).Remainder;
    }
}
