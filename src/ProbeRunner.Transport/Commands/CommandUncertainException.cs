namespace ProbeRunner.Transport.Commands;

/// <summary>
/// The controller acknowledged a command, then asked for it again: it was carried out, or it was not. Only thrown for commands that
/// must not be carried out twice; it was not sent again.
/// </summary>
/// <param name="text">The command.</param>
/// <param name="kind">What it does to the machine.</param>
public sealed class CommandUncertainException(string text, CommandKind kind) : IOException(
    "A damaged line leaves open whether the last command was carried out. It was not sent again; the position must be asked for.")
{
    /// <summary>The command.</summary>
    public string Text { get; } = text;

    /// <summary>What it does to the machine.</summary>
    public CommandKind Kind { get; } = kind;
}
