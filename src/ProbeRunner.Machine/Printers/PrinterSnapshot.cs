using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Machine.Printers;

/// <summary>What is known of the machine at one moment; null where it is not known.</summary>
public sealed record PrinterSnapshot(
    Axes Homed,
    int DatumEpoch,
    NozzlePosition? Position,
    bool ProbeExtended,
    ProbeState Probe,
    bool? MeshCorrectionOn,
    bool? SoftLimitsOn,
    Temperatures? Temperatures,
    int ResetCount)
{
    /// <summary>How often the motors let go, as far as it was noticed: on purpose, after standing idle, by a reset or a lost link.</summary>
    public int MotorReleases { get; init; }

    /// <summary>After how long without motion the controller was told to let its motors go, because it doesn't say how long it was; null when it wasn't told.</summary>
    public TimeSpan? IdleReleaseToldTo { get; init; }
}
