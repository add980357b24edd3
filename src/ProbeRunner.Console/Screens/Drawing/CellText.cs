using System.Globalization;
using System.Text;
using ProbeRunner.Transport.Framing;

namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>Text as a row of cells: harmless, measured, cut to fit.</summary>
internal static class CellText
{
    private const int LongestGrapheme = 4; // UTF-16 units; a pile of combining marks would spill over other cells
    private const string Replacement = "\uFFFD";

    /// <summary>Ranges of characters that take two cells (Unicode 16, East Asian Width W and F; symbols and pictographs shown as pictures).</summary>
    private static readonly (int From, int To)[] Wide =
    [
        (0x1100, 0x115F), (0x231A, 0x231B), (0x2329, 0x232A), (0x23E9, 0x23EC), (0x23F0, 0x23F0), (0x23F3, 0x23F3), (0x25FD, 0x25FE),
        (0x2614, 0x2615), (0x2630, 0x2637), (0x2648, 0x2653), (0x267F, 0x267F), (0x268A, 0x268F), (0x2693, 0x2693), (0x26A1, 0x26A1), (0x26AA, 0x26AB),
        (0x26BD, 0x26BE), (0x26C4, 0x26C5), (0x26CE, 0x26CE), (0x26D4, 0x26D4), (0x26EA, 0x26EA), (0x26F2, 0x26F3), (0x26F5, 0x26F5),
        (0x26FA, 0x26FA), (0x26FD, 0x26FD), (0x2705, 0x2705), (0x270A, 0x270B), (0x2728, 0x2728), (0x274C, 0x274C), (0x274E, 0x274E),
        (0x2753, 0x2755), (0x2757, 0x2757), (0x2795, 0x2797), (0x27B0, 0x27B0), (0x27BF, 0x27BF), (0x2B1B, 0x2B1C), (0x2B50, 0x2B50),
        (0x2B55, 0x2B55), (0x2E80, 0x303E), (0x3041, 0x33FF), (0x3400, 0x4DBF), (0x4DC0, 0x4DFF), (0x4E00, 0x9FFF), (0xA000, 0xA4CF), (0xA960, 0xA97C),
        (0xAC00, 0xD7A3), (0xF900, 0xFAFF), (0xFE10, 0xFE19), (0xFE30, 0xFE6F), (0xFF01, 0xFF60), (0xFFE0, 0xFFE6), (0x16FE0, 0x18DFF),
        (0x1AFF0, 0x1B2FB), (0x1D300, 0x1D376), (0x1F000, 0x1FAFF), (0x20000, 0x3FFFD),
    ];

    /// <summary>
    /// The graphemes of a text with the cells each takes, 1 or 2. Whatever could act on a terminal is shown as an escape first
    /// (<see cref="WireText.Printable"/>); a pile of combining marks, or one without a letter, becomes a replacement character.
    /// </summary>
    public static IEnumerable<(string Grapheme, int Cells)> Graphemes(string text)
    {
        string shown = WireText.Printable(text);
        var elements = StringInfo.GetTextElementEnumerator(shown);
        while (elements.MoveNext())
        {
            yield return Measured(elements.GetTextElement());
        }
    }

    /// <summary>How many cells a text takes.</summary>
    public static int Cells(string text) => IsPlain(text) ? text.Length : Graphemes(text).Sum(grapheme => grapheme.Cells);

    /// <summary>The text cut to a width; what was cut shows as an ellipsis.</summary>
    public static string Fit(string text, int cells)
    {
        if (cells <= 0)
        {
            return string.Empty;
        }

        if (Cells(text) <= cells)
        {
            return text;
        }

        var fitting = new StringBuilder();
        int used = 0;
        foreach ((string grapheme, int wide) in Graphemes(text))
        {
            if (used + wide > cells - 1)
            {
                break;
            }

            fitting.Append(grapheme);
            used += wide;
        }

        return fitting.Append('\u2026').ToString();
    }

    /// <summary>The first of several wordings, the fullest first, that goes whole into so many cells; the last, cut, where none does.</summary>
    public static string FirstThatFits(int cells, params ReadOnlySpan<string> wordings)
    {
        foreach (string wording in wordings)
        {
            if (Cells(wording) <= cells)
            {
                return wording;
            }
        }

        return Fit(wordings[^1], cells);
    }

    /// <summary>The text cut to a width and filled up with spaces behind it.</summary>
    public static string Pad(string text, int cells)
    {
        string fitting = Fit(text, cells);
        return fitting + new string(' ', Math.Max(0, cells - Cells(fitting)));
    }

    /// <summary>The text cut to a width and filled up with spaces before it.</summary>
    public static string PadLeft(string text, int cells)
    {
        string fitting = Fit(text, cells);
        return new string(' ', Math.Max(0, cells - Cells(fitting))) + fitting;
    }

    /// <summary>The text broken into lines of at most a width, at spaces where there are any.</summary>
    public static IReadOnlyList<string> Wrap(string text, int cells)
    {
        var lines = new List<string>();
        string line = string.Empty;
        foreach (string word in cells <= 0 ? [] : WireText.Printable(text).Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string longer = line.Length == 0 ? word : line + " " + word;
            if (Cells(longer) <= cells)
            {
                line = longer;
                continue;
            }

            if (line.Length > 0)
            {
                lines.Add(line);
            }

            line = Break(word, cells, lines);
        }

        if (line.Length > 0)
        {
            lines.Add(line);
        }

        return lines;
    }

    /// <summary>Whether a text is nothing but ASCII that can be seen.</summary>
    public static bool IsPlain(string text)
    {
        foreach (char letter in text)
        {
            if (letter is < ' ' or > '~')
            {
                return false;
            }
        }

        return true;
    }

    /// <returns>What is left of a word after its full lines.</returns>
    private static string Break(string word, int cells, List<string> lines)
    {
        var part = new StringBuilder();
        int used = 0;
        foreach ((string grapheme, int wide) in Graphemes(word))
        {
            if (used + wide > cells && used > 0)
            {
                lines.Add(part.ToString());
                part.Clear();
                used = 0;
            }

            part.Append(grapheme);
            used += wide;
        }

        return part.ToString();
    }

    private static (string Grapheme, int Cells) Measured(string element)
    {
        if (element.Length == 1 && element[0] is >= ' ' and <= '~')
        {
            return (element, 1);
        }

        return Rune.TryGetRuneAt(element, 0, out Rune first) && element.Length <= LongestGrapheme && !IsMark(first)
            ? (element, IsWide(first.Value) ? 2 : 1)
            : (Replacement, 1);
    }

    private static bool IsMark(Rune rune) => Rune.GetUnicodeCategory(rune) is
        UnicodeCategory.NonSpacingMark or UnicodeCategory.EnclosingMark or UnicodeCategory.SpacingCombiningMark;

    private static bool IsWide(int value)
    {
        int low = 0;
        int high = Wide.Length - 1;
        while (low <= high)
        {
            int middle = (low + high) / 2;
            if (value < Wide[middle].From)
            {
                high = middle - 1;
            }
            else if (value > Wide[middle].To)
            {
                low = middle + 1;
            }
            else
            {
                return true;
            }
        }

        return false;
    }
}
