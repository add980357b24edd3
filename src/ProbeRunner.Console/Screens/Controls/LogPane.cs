using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Screens.Controls;

/// <summary>One line of a log.</summary>
/// <param name="Number">Counts up and never repeats, so that a line keeps its place while older ones fall out.</param>
/// <param name="Stamp">When, as it is shown.</param>
/// <param name="Text">What.</param>
/// <param name="Ink">How it looks.</param>
internal readonly record struct LogLine(long Number, string Stamp, string Text, Ink Ink);

/// <summary>A log that follows its end until it is scrolled, then stands still and says how many lines have come since.</summary>
internal sealed class LogPane
{
    private long? lastInSight;

    /// <summary>Whether the newest line is always shown.</summary>
    public bool IsFollowing => lastInSight is null;

    /// <summary>Moves through the lines; past the newest it follows again.</summary>
    /// <param name="rows">Rows down, negative up; the ends by the extreme values.</param>
    /// <param name="lines">The lines, oldest first.</param>
    public void Move(int rows, IReadOnlyList<LogLine> lines)
    {
        if (lines.Count == 0 || rows == int.MaxValue)
        {
            lastInSight = null;
            return;
        }

        var at = IndexOfLast(lines);
        var wanted = rows == int.MinValue ? 0 : Math.Max(0, at + rows);
        lastInSight = wanted >= lines.Count - 1 ? null : lines[wanted].Number;
    }

    /// <summary>Shows a certain line as the last in sight.</summary>
    public void Show(LogLine line) => lastInSight = line.Number;

    /// <summary>Draws the lines in sight.</summary>
    /// <param name="canvas">The sheet.</param>
    /// <param name="area">Where.</param>
    /// <param name="lines">The lines, oldest first.</param>
    /// <param name="marked">The line that stands out; null for none.</param>
    public void Draw(CellCanvas canvas, Rect area, IReadOnlyList<LogLine> lines, long? marked = null)
    {
        var last = IndexOfLast(lines);
        if (!IsFollowing)
        {
            last = Math.Max(last, Math.Min(lines.Count - 1, area.Rows - 1));
        }

        var first = Math.Max(0, last - area.Rows + 1);
        for (var row = 0; row < area.Rows && first + row < lines.Count; row++)
        {
            var line = lines[first + row];
            var isMarked = line.Number == marked;
            if (isMarked)
            {
                canvas.Fill(new Rect(area.Left, area.Top + row, area.Columns, 1), Ink.Selected);
            }

            var after = canvas.Write(area.Left, area.Top + row, line.Stamp, isMarked ? Ink.Selected : Role.Quiet);
            canvas.Write(after + 1, area.Top + row, CellText.Fit(line.Text, area.Right - after - 1), isMarked ? Ink.Selected : line.Ink);
        }

        if (!IsFollowing && lines.Count - 1 - last is > 0 and var behind)
        {
            canvas.WriteLeftOf(area.Right, area.Bottom - 1, FormattableString.Invariant($" +{behind} newer, End follows "), new Ink(Role.Accent, Role.Raised, Letters.Bold));
        }
    }

    private int IndexOfLast(IReadOnlyList<LogLine> lines)
    {
        if (lastInSight is not { } number || lines.Count == 0)
        {
            return lines.Count - 1;
        }

        // Numbers count up by one, so the place is known without looking.
        return (int)Math.Clamp(number - lines[0].Number, 0, lines.Count - 1);
    }
}
