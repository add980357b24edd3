namespace ProbeRunner.Transport.Links;

/// <summary>Why a port can't be opened.</summary>
public enum PortProblem
{
    /// <summary>There is no such device or address.</summary>
    NotThere,

    /// <summary>This user may not open it.</summary>
    NoPermission,

    /// <summary>Another program has it.</summary>
    InUse,

    /// <summary>The guardian of a run that died still switches the heaters off; trying again helps.</summary>
    StillHeld,

    /// <summary>It is no serial port.</summary>
    NotSerial,

    /// <summary>It did not answer in time, or failed in another way; trying again can help.</summary>
    Failed,
}
