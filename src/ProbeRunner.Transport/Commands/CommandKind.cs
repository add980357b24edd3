namespace ProbeRunner.Transport.Commands;

/// <summary>What a command does to the machine; it decides the deadline, and whether the command may be sent again.</summary>
public enum CommandKind
{
    /// <summary>Asks and changes nothing; asked again after silence.</summary>
    Query,

    /// <summary>Sets a value at once; not repeated by the channel in plain mode.</summary>
    Setting,

    /// <summary>A motion that is acknowledged when it is queued.</summary>
    Motion,

    /// <summary>A motion or a wait that is acknowledged when it is done: homing, a touch, waiting for motion to end.</summary>
    LongMotion,

    /// <summary>Writes the controller's permanent memory, or reads it back.</summary>
    Store,
}
