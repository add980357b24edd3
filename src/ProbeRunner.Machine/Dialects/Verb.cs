namespace ProbeRunner.Machine.Dialects;

/// <summary>What a controller can be told or asked. A dialect may lack any of them.</summary>
public enum Verb
{
    /// <summary>Asks what the controller is.</summary>
    Identify,

    /// <summary>Homes all axes.</summary>
    HomeAll,

    /// <summary>Homes X and Y.</summary>
    HomeXY,

    /// <summary>Homes X.</summary>
    HomeX,

    /// <summary>Homes Y.</summary>
    HomeY,

    /// <summary>Homes Z.</summary>
    HomeZ,

    /// <summary>Targets are absolute from now on.</summary>
    Absolute,

    /// <summary>Moves level: x, y, feed.</summary>
    MoveLevel,

    /// <summary>Moves straight up or down: z, feed.</summary>
    MoveHeight,

    /// <summary>Lifts by an amount, whatever the position: z, feed.</summary>
    LiftRelative,

    /// <summary>Answers when all motion has finished.</summary>
    WaitForMotion,

    /// <summary>Stands still for a time: milliseconds.</summary>
    Dwell,

    /// <summary>Asks where the nozzle is.</summary>
    Position,

    /// <summary>One touch: x, y of the probe's tip.</summary>
    Touch,

    /// <summary>Brings the probe into its working position.</summary>
    ExtendProbe,

    /// <summary>Takes the probe out of its working position.</summary>
    RetractProbe,

    /// <summary>Clears a fault the probe holds.</summary>
    ClearProbeFault,

    /// <summary>Asks for the state of all end switches and the probe.</summary>
    Switches,

    /// <summary>Asks for the probe offset.</summary>
    ReadProbeOffset,

    /// <summary>Sets the probe offset: x, y, z.</summary>
    WriteProbeOffset,

    /// <summary>Switches mesh correction on.</summary>
    MeshOn,

    /// <summary>Switches mesh correction off.</summary>
    MeshOff,

    /// <summary>Asks whether mesh correction is on.</summary>
    MeshState,

    /// <summary>Asks for the mesh's nodes.</summary>
    ReadMesh,

    /// <summary>Sets one node: column, row, z.</summary>
    WriteMeshNode,

    /// <summary>The controller probes a mesh of its own.</summary>
    ProbeMesh,

    /// <summary>Switches soft limits on.</summary>
    SoftLimitsOn,

    /// <summary>Switches soft limits off.</summary>
    SoftLimitsOff,

    /// <summary>Asks for the soft limits.</summary>
    SoftLimits,

    /// <summary>Stores the live settings.</summary>
    StoreSettings,

    /// <summary>Takes the stored settings back.</summary>
    ReloadSettings,

    /// <summary>Asks for all settings.</summary>
    ReadSettings,

    /// <summary>Sets the nozzle's target: celsius.</summary>
    NozzleTarget,

    /// <summary>Sets the bed's target: celsius.</summary>
    BedTarget,

    /// <summary>Asks for the temperatures.</summary>
    Temperatures,

    /// <summary>Lays a line of plastic: x, y, filament, feed.</summary>
    LayLine,

    /// <summary>Nudges the nozzle while it prints: z.</summary>
    Nudge,

    /// <summary>Sets how fast Z may go at most: speed, mm/s.</summary>
    LimitZSpeed,

    /// <summary>Releases the motors.</summary>
    ReleaseMotors,

    /// <summary>Sets the idle time after which motors are released: seconds.</summary>
    IdleRelease,
}
