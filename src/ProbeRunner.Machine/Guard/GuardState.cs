using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Machine.Guard;

/// <summary>A touch the guard remembers: where, and the nozzle's height at the trigger.</summary>
public readonly record struct GuardTouch(BedPoint Place, double Z);

/// <summary>All the guard knows of the machine. Heights are in the present datum epoch, mm.</summary>
public sealed record GuardState
{
    /// <summary>Axes homed since the last reset, hang-up, halt or motor release.</summary>
    public Axes Homed { get; init; }

    /// <summary>Whether the controller was halted and not reset since.</summary>
    public bool IsHalted { get; init; }

    /// <summary>Where the nozzle is; null when that is not known.</summary>
    public NozzlePosition? Position { get; init; }

    /// <summary>What the probe's tip is.</summary>
    public ProbePosture Probe { get; init; }

    /// <summary>What mesh correction does; null when that is not known.</summary>
    public MeshInForce? Mesh { get; init; }

    /// <summary>Where the controller believes the probe to be.</summary>
    public ProbeOffset Offset { get; init; }

    /// <summary>Whether the stored Z offset has been verified.</summary>
    public bool OffsetVerified { get; init; }

    /// <summary>Lifted so far since the axes were lost, mm.</summary>
    public double LiftedUnhomedMm { get; init; }

    /// <summary>Trigger height at the homing place as the homing defined it; null when a switch is the datum.</summary>
    public double? HomingTriggerZ { get; init; }

    /// <summary>The highest touch of this epoch; null before the first.</summary>
    public double? HighestTouchZ { get; init; }

    /// <summary>Touches of this epoch, the last at each place only.</summary>
    public ImmutableArray<GuardTouch> Touches { get; init; } = [];

    /// <summary>First contacts of this epoch: at each place the highest height at which the nozzle was not free.</summary>
    public ImmutableArray<GuardTouch> Contacts { get; init; } = [];

    /// <summary>The first layer that is being laid; null when none is.</summary>
    public LayingMode? Laying { get; init; }

    /// <summary>The step-down that is open; null when none is.</summary>
    public StepDownOpening? StepDown { get; init; }
}
