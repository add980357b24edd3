using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;

namespace ProbeRunner.Console.Screens.Shell;

/// <summary>Draws the desk: top line, the screens in sight, footer with the keys that work, and the line that never goes away.</summary>
internal static class DeskPicture
{
    /// <summary>The smallest terminal the screens fit into.</summary>
    public const int LeastColumns = 80;

    /// <summary>The smallest terminal the screens fit into.</summary>
    public const int LeastRows = 24;

    private const string Mains = "the mains switch is the emergency stop";

    /// <summary>The room that screens get.</summary>
    public static Rect Room(Rect whole) => new(whole.Left, whole.Top + 1, whole.Columns, whole.Rows - 3);

    /// <summary>Draws it.</summary>
    public static void Draw(CellCanvas canvas, Desk desk)
    {
        canvas.Clear();
        if (canvas.Columns < LeastColumns || canvas.Rows < LeastRows)
        {
            DrawTooSmall(canvas, desk);
            return;
        }

        DrawTop(canvas, desk);
        var room = canvas.Part(Room(canvas.Area));
        foreach (var screen in desk.InSight)
        {
            screen.Draw(room, desk.Palette);
        }

        if (desk.Notice is { } notice)
        {
            DrawNotice(canvas, notice);
        }

        DrawKeys(canvas, desk);
        DrawSafety(canvas, desk.Reins, canvas.Rows - 1);
    }

    private static void DrawTop(CellCanvas canvas, Desk desk)
    {
        canvas.Fill(new Rect(0, 0, canvas.Columns, 1), new Ink(Role.Text, Role.Raised));
        var column = canvas.Write(1, 0, "ProbeRunner", new Ink(Role.Accent, Role.Raised, Letters.Bold));
        var titles = string.Join(" › ", desk.InSight.Select(screen => screen.Title));
        var state = CellText.Fit(desk.Reins.State, canvas.Columns / 2);
        canvas.Write(column + 2, 0, CellText.Fit(titles, canvas.Columns - column - CellText.Cells(state) - 5), new Ink(Role.Text, Role.Raised));
        canvas.WriteLeftOf(canvas.Columns - 1, 0, state, new Ink(desk.Reins.IsHeld ? Role.Warning : Role.Text, Role.Raised, Letters.Bold));
    }

    private static void DrawNotice(CellCanvas canvas, Notice notice)
    {
        var lines = CellText.Wrap(notice.Text, canvas.Columns - 4);
        var rows = Math.Min(lines.Count, 3);
        var top = canvas.Rows - 2 - rows;
        for (var line = 0; line < rows; line++)
        {
            canvas.Fill(new Rect(0, top + line, canvas.Columns, 1), new Ink(notice.Role, Role.Raised));
            canvas.Write(2, top + line, lines[line], new Ink(notice.Role, Role.Raised, Letters.Bold));
            canvas.Put(0, top + line, line == 0 ? "▶" : " ", new Ink(notice.Role, Role.Raised, Letters.Bold));
        }
    }

    private static void DrawKeys(CellCanvas canvas, Desk desk)
    {
        var row = canvas.Rows - 2;
        canvas.Fill(new Rect(0, row, canvas.Columns, 1), Role.Text);
        var column = 1;
        foreach (var entry in InFooter(desk, canvas.Columns - 2))
        {
            var isOff = entry.WhyNot is not null;
            column = canvas.Write(column, row, KeysShown(desk, entry), isOff ? Role.Quiet : Ink.Bold(Role.Key));
            column = canvas.Write(column + 1, row, entry.Label, isOff ? Role.Quiet : Role.Text) + 2;
        }
    }

    /// <summary>The key that is written at a cell of the last two rows; null for none.</summary>
    public static Stroke? KeyAt(Desk desk, Rect whole, int column, int row)
    {
        var at = whole.Left + 1;
        if (row == whole.Bottom - 1)
        {
            foreach (var (stroke, label) in Safety(desk.Reins, whole.Columns))
            {
                var end = at + CellText.Cells(stroke.Label) + 1 + CellText.Cells(label);
                if (column >= at && column < end)
                {
                    return stroke;
                }

                at = end + 3;
            }
        }

        if (row == whole.Bottom - 2)
        {
            foreach (var entry in InFooter(desk, whole.Columns - 2))
            {
                var end = at + Width(desk, entry) - 2;
                if (column >= at && column < end)
                {
                    return entry.Shown == 1 ? Usable(desk, entry) : null;
                }

                at = end + 2;
            }
        }

        return null;
    }

    /// <summary>As many entries as fit; help and back, which lead everywhere else, always do.</summary>
    private static List<KeyEntry> InFooter(Desk desk, int columns)
    {
        var wanted = desk.Keys.Where(entry => entry.InFooter && !(desk.Front.TakesText && entry.Strokes[0].IsText && entry.Strokes.Length == 1)).ToList();
        while (wanted.Count > 0 && wanted.Sum(entry => Width(desk, entry)) - 2 > columns)
        {
            var last = wanted.FindLastIndex(entry => entry.Label is not ("help" or "back" or "quit" or "commands"));
            wanted.RemoveAt(last >= 0 ? last : wanted.Count - 1);
        }

        return wanted;
    }

    private static int Width(Desk desk, KeyEntry entry) => CellText.Cells(KeysShown(desk, entry)) + CellText.Cells(entry.Label) + 3;

    /// <summary>Where text is typed, a letter is no key: another one that does the same is shown.</summary>
    private static Stroke Usable(Desk desk, KeyEntry entry) =>
        desk.Front.TakesText && entry.Strokes.Any(stroke => !stroke.IsText) ? entry.Strokes.First(stroke => !stroke.IsText) : entry.Strokes[0];

    private static string KeysShown(Desk desk, KeyEntry entry) => entry.Shown == 1 ? Usable(desk, entry).Label : entry.KeysShown;

    /// <summary>Where not all three have room, the gravest comes first.</summary>
    private static (Stroke Stroke, string Label)[] Safety(IReins reins, int columns)
    {
        (Stroke Stroke, string Label)[] keys = [(SafetyKeys.Hold, reins.IsHeld ? "go on" : "hold"), (SafetyKeys.Stop, "stop"), (SafetyKeys.Halt, "HALT")];
        return columns < keys.Sum(key => CellText.Cells(key.Stroke.Label) + CellText.Cells(key.Label) + 4) ? [.. keys.Reverse()] : keys;
    }

    private static void DrawSafety(CellCanvas canvas, IReins reins, int row)
    {
        var ground = Role.Raised;
        canvas.Fill(new Rect(0, row, canvas.Columns, 1), new Ink(Role.Text, ground));
        var column = 1;
        foreach (var (stroke, label) in Safety(reins, canvas.Columns))
        {
            column = Key(canvas, column, row, stroke, label, reins.IsUnderWay);
        }

        canvas.Write(column, row, MainsWithin(canvas.Columns - column - 1), new Ink(Role.Warning, ground, Letters.Bold));
    }

    private static string MainsWithin(int columns) => CellText.FirstThatFits(columns, Mains, "emergency: mains switch", "mains!", string.Empty);

    private static int Key(CellCanvas canvas, int column, int row, Stroke stroke, string label, bool isUseful)
    {
        var text = isUseful ? Role.Text : Role.Quiet;
        column = canvas.Write(column, row, stroke.Label, new Ink(isUseful ? Role.Key : Role.Quiet, Role.Raised, isUseful ? Letters.Bold : Letters.Plain));
        return canvas.Write(column + 1, row, label, new Ink(text, Role.Raised, isUseful ? Letters.Bold : Letters.Plain)) + 3;
    }

    private static void DrawTooSmall(CellCanvas canvas, Desk desk)
    {
        var text = FormattableString.Invariant(
            $"The bench screens need {LeastColumns} x {LeastRows} cells; this terminal has {canvas.Columns} x {canvas.Rows}. Make it larger, or use plain lines: proberunner run --help");
        var row = 0;
        text = canvas.Columns < 60 ? $"{char.ToUpperInvariant(Mains[0])}{Mains[1..]}. {text}" : text; // the last line has no room for it
        foreach (var line in CellText.Wrap(text, canvas.Columns))
        {
            canvas.Write(0, row++, line, Role.Warning);
        }

        if (canvas.Rows > 0)
        {
            DrawSafety(canvas, desk.Reins, canvas.Rows - 1);
        }
    }
}
