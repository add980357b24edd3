using System.Collections.Immutable;
using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>A machine as its profile describes it, also a half-entered one.</summary>
/// <param name="Bed">The bed, with what the probe cannot reach.</param>
/// <param name="Travel">Where the nozzle can be, bed coordinates.</param>
/// <param name="Offset">Probe minus nozzle, mm; Z is not used.</param>
/// <param name="TriggerToNozzleMm">How far below the trigger point the nozzle touches.</param>
/// <param name="ExtendedBelowNozzleMm">How far the extended tip reaches below the nozzle.</param>
/// <param name="RetractedAboveNozzleMm">How far the retracted tip is above the nozzle.</param>
/// <param name="Screws">Places of the screws.</param>
internal sealed record ProfileState(
    BedOutline Bed,
    BedRectangle Travel,
    ProbeOffset Offset,
    double TriggerToNozzleMm,
    double ExtendedBelowNozzleMm,
    double RetractedAboveNozzleMm,
    ImmutableArray<BedPoint> Screws) : PictureState
{
    /// <summary>A machine's.</summary>
    public static ProfileState Of(MachineProfile profile) => new(
        BedOutline.Of(profile),
        profile.Travel.Nozzle,
        profile.Probe.Offset,
        profile.Probe.TriggerToNozzleMm,
        profile.Probe.ExtendedBelowNozzleMm,
        profile.Probe.RetractedAboveNozzleMm,
        [.. profile.Screws.Select(screw => screw.Place)]);
}
