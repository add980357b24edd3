using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Machine.Profiles;

/// <summary>A machine as data: what its TOML profile says, checked.</summary>
/// <param name="Name">Short name, as in the file name.</param>
/// <param name="Title">What a person calls it.</param>
/// <param name="Dialect">Name of the dialect file its controller understands.</param>
/// <param name="BaudRate">Serial speed, baud.</param>
/// <param name="Bed">The plate and what is in the way on it.</param>
/// <param name="Travel">Where the nozzle can go, bed coordinates for X and Y, mm.</param>
/// <param name="Probe">The probe.</param>
/// <param name="Mesh">The controller's correction mesh.</param>
/// <param name="Screws">Adjusting screws; empty when there are none.</param>
/// <param name="Heat">Temperatures and their caps.</param>
/// <param name="FirstLayer">First layer settings.</param>
public sealed record MachineProfile(
    string Name,
    string Title,
    string Dialect,
    int BaudRate,
    BedProfile Bed,
    TravelProfile Travel,
    ProbeProfile Probe,
    MeshProfile Mesh,
    ImmutableArray<ScrewProfile> Screws,
    HeatProfile Heat,
    FirstLayerProfile FirstLayer);

/// <summary>The bed plate.</summary>
/// <param name="WidthMm">Along X.</param>
/// <param name="DepthMm">Along Y.</param>
/// <param name="ControllerOriginX">The controller's X at the plate's front-left corner, mm.</param>
/// <param name="ControllerOriginY">The controller's Y at the plate's front-left corner, mm.</param>
/// <param name="Printable">The rectangle plastic may be laid in.</param>
/// <param name="Clips">Places that nothing may touch.</param>
/// <param name="MovesAlongY">Whether the bed, not the gantry, moves along Y.</param>
public sealed record BedProfile(
    double WidthMm,
    double DepthMm,
    double ControllerOriginX,
    double ControllerOriginY,
    BedRectangle Printable,
    ImmutableArray<BedRectangle> Clips,
    bool MovesAlongY)
{
    /// <summary>How far the highest clip stands up from the plate, mm; 10 unless the profile says otherwise.</summary>
    public double ClipHeightMm { get; init; } = 10;
}

/// <summary>Travel limits of the nozzle and how it is moved.</summary>
/// <param name="Nozzle">Where the nozzle can be, bed coordinates, mm.</param>
/// <param name="LowestZ">No command goes below, mm; negative.</param>
/// <param name="HighestZ">No command goes above, mm.</param>
/// <param name="ClearanceMm">Height for level travel once the offset is verified, mm above the highest touch.</param>
/// <param name="FirstLiftMm">The bounded lift before anything is homed, mm, at most 10.</param>
/// <param name="TravelFeedMmPerMin">Level travel.</param>
/// <param name="LiftFeedMmPerMin">Up and coarse down.</param>
/// <param name="SlowFeedMmPerMin">Near the bed.</param>
/// <param name="ZStepMm">The finest step of Z, mm.</param>
/// <param name="HomingPlace">Where homing touches the bed with the probe.</param>
/// <param name="HomesWithProbe">Whether the probe is the end switch of Z.</param>
public sealed record TravelProfile(
    BedRectangle Nozzle,
    double LowestZ,
    double HighestZ,
    double ClearanceMm,
    double FirstLiftMm,
    double TravelFeedMmPerMin,
    double LiftFeedMmPerMin,
    double SlowFeedMmPerMin,
    double ZStepMm,
    BedPoint HomingPlace,
    bool HomesWithProbe)
{
    /// <summary>Drives that carry the gantry along Z, each at an end of its own, 1 or 2; 1 unless the profile says otherwise. Two can come to differ when the motors let go.</summary>
    public int ZDrives { get; init; } = 1;
}

/// <summary>What kind of probe it is, which decides how it is moved and tested.</summary>
public enum ProbeKind
{
    /// <summary>A pin that is extended and retracted by a command.</summary>
    RetractablePin,

    /// <summary>Fetched from a dock.</summary>
    Docked,

    /// <summary>Senses metal without touching.</summary>
    MetalSensing,

    /// <summary>The nozzle itself is the probe.</summary>
    NozzleContact,
}

/// <summary>The probe as fitted.</summary>
/// <param name="Kind">Its kind.</param>
/// <param name="Offset">Probe minus nozzle; X and Y by ruler, Z a first guess (0 when unknown).</param>
/// <param name="TriggerToNozzleMm">How far below the trigger point the nozzle touches, as entered, mm, positive; the guard's floor depends on it.</param>
/// <param name="ExtendedBelowNozzleMm">How far the extended tip reaches below the nozzle, mm.</param>
/// <param name="RetractedAboveNozzleMm">How far the retracted tip is above the nozzle, mm.</param>
/// <param name="EdgeMarginMm">How near to the plate's edge it may touch, mm.</param>
/// <param name="TouchFeedMmPerMin">Feed of the touch, mm/min, 30 to 600.</param>
/// <param name="GoodSigmaMm">A probe this good is fit, mm.</param>
/// <param name="BadSigmaMm">A probe this bad is not, mm.</param>
public sealed record ProbeProfile(
    ProbeKind Kind,
    ProbeOffset Offset,
    double TriggerToNozzleMm,
    double ExtendedBelowNozzleMm,
    double RetractedAboveNozzleMm,
    double EdgeMarginMm,
    double TouchFeedMmPerMin,
    double GoodSigmaMm,
    double BadSigmaMm);

/// <summary>The controller's correction mesh.</summary>
/// <param name="Columns">Nodes along X.</param>
/// <param name="Rows">Nodes along Y.</param>
/// <param name="Area">The rectangle of its nodes, bed coordinates; the controller's own word counts where it gives one.</param>
public sealed record MeshProfile(int Columns, int Rows, BedRectangle Area);

/// <summary>One adjusting screw.</summary>
/// <param name="Name">"front left" and the like.</param>
/// <param name="Place">Where it is.</param>
/// <param name="PitchMm">Thread pitch, mm a turn.</param>
/// <param name="ClockwiseRaises">Whether a clockwise turn, seen from above, raises the bed.</param>
public sealed record ScrewProfile(string Name, BedPoint Place, double PitchMm, bool ClockwiseRaises);

/// <summary>Temperatures, degC.</summary>
public sealed record HeatProfile(
    double NozzleCapCelsius, double BedCapCelsius, double ProbingNozzleCelsius, double PrintingBedCelsius, TimeSpan Soak);

/// <summary>First layer: what is laid and what sticks.</summary>
/// <param name="HeightMm">Set height of the first layer.</param>
/// <param name="LowestGapMm">Below this the plastic is squeezed out.</param>
/// <param name="HighestGapMm">Above this it does not stick.</param>
public sealed record FirstLayerProfile(double HeightMm, double LowestGapMm, double HighestGapMm);
