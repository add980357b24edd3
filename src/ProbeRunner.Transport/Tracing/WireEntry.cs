using ProbeRunner.Transport.Framing;

namespace ProbeRunner.Transport.Tracing;

/// <summary>One traced line.</summary>
/// <param name="Time">When it was handed to the operating system or received.</param>
/// <param name="Direction">Which way it went.</param>
/// <param name="Text">The line, raw.</param>
public readonly record struct WireEntry(DateTimeOffset Time, WireDirection Direction, string Text)
{
    /// <summary>The line, fit to be seen.</summary>
    public string Printable => WireText.Printable(Text);
}
