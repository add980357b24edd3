namespace ProbeRunner.Transport.Commands;

/// <summary>The controller has no such command; it did nothing. Whoever asks what a controller can do catches this.</summary>
/// <param name="text">The command.</param>
/// <param name="line">The controller's answer, raw.</param>
public sealed class CommandUnknownException(string text, string line) : IOException(
    "The controller does not know a command that this step needs; nothing was done.")
{
    /// <summary>The command.</summary>
    public string Text { get; } = text;

    /// <summary>The controller's answer, raw.</summary>
    public string Line { get; } = line;
}
