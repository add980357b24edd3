using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Steps;

/// <summary>The parameter <c>place_mm = [x, y]</c>: a bed point; the homing place when it is missing.</summary>
internal static class PlaceParameter
{
    private const double LargestMm = 2000;

    /// <summary>Reads it.</summary>
    public static BedPoint? Read(TomlSection section)
    {
        ImmutableArray<double> place = section.Numbers("place_mm", "x, y", 2, 0, LargestMm, otherwise: ImmutableArray<double>.Empty);
        return place.Length == 2 ? new BedPoint(place[0], place[1]) : null;
    }

    /// <summary>Why the probe can't touch there on a machine; null when it can.</summary>
    public static string? WhyOutOfReach(BedPoint? place, MachineProfile profile)
    {
        ReachableArea reach = ReachableArea.ForProbe(profile);
        return place is not { } at || reach.CanTouch(at)
            ? null
            : FormattableString.Invariant($"the probe can't reach place_mm = [{at.X}, {at.Y}]; it reaches x {reach.Bounds.MinX} to {reach.Bounds.MaxX} and y {reach.Bounds.MinY} to {reach.Bounds.MaxY}, off the clips.");
    }
}
