namespace ProbeRunner.Transport.Commands;

/// <summary>The controller started anew: it has forgotten where the axes are, and its live settings.</summary>
/// <param name="line">The line that showed it, raw.</param>
/// <param name="pending">The command that was under way or waiting; null when none was.</param>
public sealed class ControllerResetException(string line, string? pending) : IOException(
    "The controller has restarted. It no longer knows where the axes are; nothing moves until they are homed again.")
{
    /// <summary>The line that showed it, raw.</summary>
    public string Line { get; } = line;

    /// <summary>The command that was under way or waiting; null when none was.</summary>
    public string? Pending { get; } = pending;
}
