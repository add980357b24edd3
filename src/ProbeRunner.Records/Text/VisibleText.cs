using ProbeRunner.Transport.Framing;

namespace ProbeRunner.Records.Text;

/// <summary>
/// Text from the wire, a file or a person, made harmless to show by the one rule of <see cref="WireText.Printable"/>: nothing in it can
/// steer a terminal, a page or a spreadsheet.
/// </summary>
public static class VisibleText
{
    /// <summary>The text on one line.</summary>
    public static string Of(string text) => WireText.Printable(text);

    /// <summary>The text with its line breaks kept (as LF) and tabs as spaces.</summary>
    public static string OfLines(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return string.Join('\n', text.ReplaceLineEndings("\n").Replace("\t", "    ", StringComparison.Ordinal).Split('\n').Select(WireText.Printable));
    }
}
