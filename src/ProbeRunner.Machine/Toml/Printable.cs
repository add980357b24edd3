using ProbeRunner.Transport.Framing;

namespace ProbeRunner.Machine.Toml;

/// <summary>Text from a file or the wire, harmless to show in a message and not longer than one can read.</summary>
public static class Printable
{
    private const int LongestShown = 200;

    /// <summary>The text with whatever could steer a terminal shown as an escape, cut after 200 characters.</summary>
    public static string Text(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return text.Length > LongestShown ? WireText.Printable(text[..LongestShown]) + "…" : WireText.Printable(text);
    }
}
