namespace ProbeRunner.Transport.Commands;

/// <summary>What a line from the controller means to the command channel.</summary>
public enum LineKind
{
    /// <summary>A command was taken (or, after a refusal, the refusal is complete).</summary>
    Acknowledge,

    /// <summary>A command was refused or failed; the line's wording is the controller's.</summary>
    Error,

    /// <summary>The controller does not know the command.</summary>
    UnknownCommand,

    /// <summary>The controller wants the line of the given number again.</summary>
    Resend,

    /// <summary>A long command is still under way.</summary>
    Busy,

    /// <summary>The controller has started anew: line numbers, homing and live settings are gone.</summary>
    ResetBanner,

    /// <summary>The controller has stopped for good and ignores everything until it is reset.</summary>
    Halted,

    /// <summary>The controller says that it has nothing to do.</summary>
    Idle,

    /// <summary>A temperature report, asked for or not.</summary>
    TemperatureReport,

    /// <summary>Anything else: a reply to the command under way, or something nobody asked for.</summary>
    Other,
}
