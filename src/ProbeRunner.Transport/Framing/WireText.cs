using System.Globalization;
using System.Text;

namespace ProbeRunner.Transport.Framing;

/// <summary>Text from the wire made fit to be seen.</summary>
public static class WireText
{
    /// <summary>
    /// The text with every character that could act on a terminal, a log or a page instead of being read there shown as an escape:
    /// control characters, format characters such as bidirectional marks, line separators and lone surrogates as <c>\u{hex}</c>.
    /// Text without any is returned as it is. A backslash stays a backslash: this is for eyes, not for reading back.
    /// </summary>
    /// <param name="text">Raw text.</param>
    public static string Printable(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        int clean = 0;
        while (clean < text.Length && text[clean] is >= ' ' and <= '~')
        {
            clean++;
        }

        if (clean == text.Length)
        {
            return text;
        }

        var shown = new StringBuilder(text.Length + 16);
        for (int i = 0; i < text.Length;)
        {
            bool isWhole = Rune.TryGetRuneAt(text, i, out Rune rune);
            if (isWhole && !Acts(rune))
            {
                shown.Append(text, i, rune.Utf16SequenceLength);
            }
            else
            {
                shown.Append(CultureInfo.InvariantCulture, $"\\u{{{(isWhole ? rune.Value : text[i]):X2}}}");
            }

            i += isWhole ? rune.Utf16SequenceLength : 1;
        }

        return shown.ToString();
    }

    private static bool Acts(Rune rune) => Rune.GetUnicodeCategory(rune) is
        UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator
        or UnicodeCategory.Surrogate or UnicodeCategory.PrivateUse or UnicodeCategory.OtherNotAssigned;
}
