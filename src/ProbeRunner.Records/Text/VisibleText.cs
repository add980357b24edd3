using System.Globalization;
using System.Text;

namespace ProbeRunner.Records.Text;

/// <summary>
/// Makes text from the wire, a file or a person harmless to show: control characters, escapes, marks that turn the reading direction and
/// broken surrogates become visible as <c>\u{...}</c>, so that nothing in them can steer a terminal, a page or a spreadsheet.
/// </summary>
public static class VisibleText
{
    /// <summary>The text on one line, everything unprintable shown by its number.</summary>
    public static string Of(string text) => Of(text, keepLineBreaks: false);

    /// <summary>The same, with line breaks (as LF) and tabs (as spaces) kept.</summary>
    public static string OfLines(string text) => Of(text.ReplaceLineEndings("\n").Replace("\t", "    ", StringComparison.Ordinal), keepLineBreaks: true);

    private static string Of(string text, bool keepLineBreaks)
    {
        ArgumentNullException.ThrowIfNull(text);
        var shown = new StringBuilder(text.Length);
        for (int at = 0; at < text.Length;)
        {
            if (!Rune.TryGetRuneAt(text, at, out Rune rune))
            {
                AppendNumber(shown, text[at]);
                at++;
                continue;
            }

            at += rune.Utf16SequenceLength;
            if (IsHarmless(rune) || (keepLineBreaks && rune.Value == '\n'))
            {
                shown.Append(rune);
            }
            else
            {
                AppendNumber(shown, rune.Value);
            }
        }

        return shown.ToString();
    }

    private static void AppendNumber(StringBuilder shown, int value) => shown.Append(CultureInfo.InvariantCulture, $"\\u{{{value:X4}}}");

    private static bool IsHarmless(Rune rune) => Rune.GetUnicodeCategory(rune)
        is not (UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.PrivateUse or UnicodeCategory.Surrogate
            or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator or UnicodeCategory.OtherNotAssigned);
}
