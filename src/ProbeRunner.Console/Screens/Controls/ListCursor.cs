using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Screens.Controls;

/// <summary>Which item of a list is chosen, and which part of the list is in sight.</summary>
internal sealed class ListCursor
{
    private const int MarkColumns = 6;
    private int top;

    /// <summary>The chosen item, from 0.</summary>
    public int At { get; private set; }

    /// <summary>Moves by some items; the ends by the extreme values.</summary>
    public void Move(int by, int count) => At = by switch
    {
        int.MinValue => 0,
        int.MaxValue => Math.Max(0, count - 1),
        _ => Math.Clamp(At + by, 0, Math.Max(0, count - 1)),
    };

    /// <summary>Chooses an item.</summary>
    public void Set(int item, int count) => At = Math.Clamp(item, 0, Math.Max(0, count - 1));

    /// <summary>The item at a row of the list's area, as drawn last.</summary>
    public int ItemAt(int row) => top + row;

    /// <summary>Draws the list with the chosen item in sight.</summary>
    /// <param name="canvas">The sheet.</param>
    /// <param name="area">Where.</param>
    /// <param name="count">How many items.</param>
    /// <param name="hasFocus">Whether keys go to this list.</param>
    /// <param name="draw">Draws an item into its line: canvas, line, item, whether it is chosen.</param>
    public void Draw(CellCanvas canvas, Rect area, int count, bool hasFocus, Action<CellCanvas, Rect, int, bool> draw)
    {
        At = Math.Clamp(At, 0, Math.Max(0, count - 1));
        top = Math.Clamp(top, Math.Max(0, At - area.Rows + 1), At);
        top = Math.Min(top, Math.Max(0, count - area.Rows));
        for (var row = 0; row < area.Rows && top + row < count; row++)
        {
            var line = new Rect(area.Left, area.Top + row, area.Columns, 1);
            var isChosen = top + row == At;
            if (isChosen)
            {
                canvas.Fill(line, hasFocus ? Ink.Selected : new Ink(Role.Text, Role.Raised));
                canvas.Put(line.Left, line.Top, hasFocus ? "▶" : "·", hasFocus ? Ink.Selected : new Ink(Role.Text, Role.Raised));
            }

            var isUnderMark = count - top > area.Rows && row == area.Rows - 1;
            draw(canvas, new Rect(line.Left + 2, line.Top, line.Columns - 2 - (isUnderMark ? MarkColumns : 0), 1), top + row, isChosen);
        }

        var below = count - top - area.Rows;
        if (below > 0)
        {
            canvas.WriteLeftOf(area.Right, area.Bottom - 1, FormattableString.Invariant($" ↓ {below} "), new Ink(Role.Accent, Role.Raised));
        }
    }
}
