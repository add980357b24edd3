using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;

namespace ProbeRunner.Console.Screens.Pictures.Bed;

/// <summary>What a bed looks like from above.</summary>
/// <param name="WidthMm">Along X; positive.</param>
/// <param name="DepthMm">Along Y; positive.</param>
/// <param name="Clips">Places that nothing may touch.</param>
/// <param name="Unreachable">Strips that the probe cannot reach.</param>
/// <param name="HomingPlace">Where homing touches the bed.</param>
internal sealed record BedOutline(
    double WidthMm, double DepthMm, ImmutableArray<BedRectangle> Clips, ImmutableArray<BedRectangle> Unreachable, BedPoint HomingPlace)
{
    /// <summary>The bed of a machine.</summary>
    public static BedOutline Of(MachineProfile profile) => new(
        profile.Bed.WidthMm,
        profile.Bed.DepthMm,
        profile.Bed.Clips,
        [.. ReachableArea.ForProbe(profile).UnreachableStrips()],
        profile.Travel.HomingPlace);
}
