namespace ProbeRunner.Transport.Commands;

/// <summary>The controller was halted, or halted itself; it ignores everything until it is reset.</summary>
/// <param name="line">The line that said so, raw; null when this side sent the halt.</param>
public sealed class ControllerHaltedException(string? line) : IOException(
    "The controller has halted. If anything still moves or heats, switch off at the mains. It must be reset before it listens again.")
{
    /// <summary>The line that said so, raw; null when this side sent the halt.</summary>
    public string? Line { get; } = line;
}
