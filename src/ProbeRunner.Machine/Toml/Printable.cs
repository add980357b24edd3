using System.Globalization;
using System.Text;

namespace ProbeRunner.Machine.Toml;

/// <summary>Makes text from a file or a wire harmless to show: nothing in it can steer a terminal or reverse the reading direction.</summary>
public static class Printable
{
    private const int LongestShown = 200;

    /// <summary>The text with control, format and private characters shown as <c>\u....</c>, cut after 200 characters.</summary>
    public static string Text(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var shown = new StringBuilder(Math.Min(text.Length, LongestShown));
        foreach (char character in text.AsSpan(0, Math.Min(text.Length, LongestShown)))
        {
            if (IsHarmless(character))
            {
                shown.Append(character);
            }
            else
            {
                shown.Append(CultureInfo.InvariantCulture, $"\\u{(int)character:x4}");
            }
        }

        return text.Length > LongestShown ? shown.Append('…').ToString() : shown.ToString();
    }

    private static bool IsHarmless(char character) => char.GetUnicodeCategory(character)
        is not (UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.PrivateUse or UnicodeCategory.Surrogate
            or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator or UnicodeCategory.OtherNotAssigned);
}
