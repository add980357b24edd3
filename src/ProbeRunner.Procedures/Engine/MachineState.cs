using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Engine;

/// <summary>What the run's facts imply about the machine; after a resume the engine brings the machine back to it.</summary>
/// <param name="Lifted">Whether the first lift was done.</param>
/// <param name="Homed">Axes homed by the run.</param>
/// <param name="DatumEpoch">The run's datum epoch, counted across sessions.</param>
/// <param name="OffsetAsFound">The probe offset that the run met first; null until it was read.</param>
/// <param name="MeshAsFound">The mesh that the run met first; null until it was read.</param>
/// <param name="LiveOffset">The probe offset that the run wrote and has not stored; null when there is none.</param>
/// <param name="LiveMesh">The mesh that the run wrote and has not stored; null when there is none.</param>
/// <param name="OffsetVerified">Whether the run proved the offset at the bed.</param>
/// <param name="SoftLimitsChanged">Whether the controller's own travel limits are off because of the run.</param>
/// <param name="NozzleTargetCelsius">The nozzle's target that the run set last; 0 for off.</param>
/// <param name="BedTargetCelsius">The bed's.</param>
internal sealed record MachineState(
    bool Lifted,
    Axes Homed,
    int DatumEpoch,
    ProbeOffset? OffsetAsFound,
    MeshReply? MeshAsFound,
    ProbeOffset? LiveOffset,
    MeshNodes? LiveMesh,
    bool OffsetVerified,
    bool SoftLimitsChanged,
    double NozzleTargetCelsius = 0,
    double BedTargetCelsius = 0)
{
    /// <summary>Mesh correction as the run's first session found it; null where the controller didn't say.</summary>
    public bool? CorrectionAsFound { get; init; }

    /// <summary>The controller's own travel limits as the run's first session found them; null where the controller didn't say.</summary>
    public bool? SoftLimitsAsFound { get; init; }

    /// <summary>Whether the switches shall stay as they are when the run ends.</summary>
    public bool KeepsSwitches { get; init; }

    /// <summary>How long the bed was to soak at its target; null where no step has said, so that the profile's soak counts.</summary>
    public TimeSpan? SoakNeeded { get; init; }

    /// <summary>How fast the controller let Z go at most when the run met it, mm/min; null until it was read.</summary>
    public double? ZFeedAsFound { get; init; }

    /// <summary>The limit that the run has set instead, mm/min; null when it is as found.</summary>
    public double? LiveZFeed { get; init; }

    /// <summary>Nothing done yet.</summary>
    public static MachineState Untouched { get; } = new(false, Axes.None, 0, null, null, null, null, false, false);

    /// <summary>The same with the switches as a session found them, unless an earlier session of the run saw them before it changed anything.</summary>
    public MachineState MetBy(SessionPayload session) => this with
    {
        CorrectionAsFound = CorrectionAsFound ?? session.CorrectionFoundOn,
        SoftLimitsAsFound = SoftLimitsAsFound ?? session.SoftLimitsFoundOn,
    };

    /// <summary>The same with the probe offset that the run was begun with, unless its steps have read or stored one.</summary>
    public MachineState MetWith(RunHeader header) => OffsetAsFound is null && header.Geometry.Length > 0
        ? this with { OffsetAsFound = JournalJson.Read<MachineGeometry>(header.Geometry).Offset }
        : this;

    /// <summary>The same with Z to be homed again.</summary>
    public MachineState WithoutDatum() => this with { Homed = Homed & ~Axes.Z };
}
