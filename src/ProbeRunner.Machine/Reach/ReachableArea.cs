using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Machine.Reach;

/// <summary>
/// The part of the bed that the probe's tip, or the nozzle, can reach: travel, probe offset, edge margin and clips considered.
/// Bed coordinates, mm.
/// </summary>
/// <param name="Bounds">The rectangle travel and margins leave; empty when nothing can be reached.</param>
/// <param name="Excluded">Rectangles inside it that must not be approached, because of a clip under the probe or under the nozzle beside it.</param>
/// <param name="Plate">The whole plate.</param>
public sealed record ReachableArea(BedRectangle Bounds, ImmutableArray<BedRectangle> Excluded, BedRectangle Plate)
{
    /// <summary>How near to a clip the probe's tip may come, mm.</summary>
    public const double ProbeClipMarginMm = 2;

    /// <summary>How near to a clip the nozzle may come while it is low, mm: its heater block is wider than its tip.</summary>
    public const double NozzleClipMarginMm = 4;

    /// <summary>Where the probe's tip can touch.</summary>
    /// <param name="profile">The machine.</param>
    public static ReachableArea ForProbe(MachineProfile profile) => ForProbe(profile, profile.Probe.Offset);

    /// <summary>Where the probe's tip can touch.</summary>
    /// <param name="profile">The machine.</param>
    /// <param name="offset">The probe's offset as the controller has it, if it differs from the profile's.</param>
    public static ReachableArea ForProbe(MachineProfile profile, ProbeOffset offset)
    {
        ArgumentNullException.ThrowIfNull(profile);
        BedRectangle plate = PlateOf(profile);
        BedRectangle bounds = plate
            .Inset(profile.Probe.EdgeMarginMm)
            .Intersect(profile.Travel.Nozzle.Shift(offset.X, offset.Y));
        IEnumerable<BedRectangle> underProbe = profile.Bed.Clips.Select(clip => clip.Inset(-ProbeClipMarginMm));
        IEnumerable<BedRectangle> underNozzle = profile.Bed.Clips.Select(clip => clip.Inset(-NozzleClipMarginMm).Shift(offset.X, offset.Y));
        return new ReachableArea(bounds, Within(bounds, underProbe.Concat(underNozzle)), plate);
    }

    /// <summary>Where the nozzle can come down with the probe retracted.</summary>
    /// <param name="profile">The machine.</param>
    public static ReachableArea ForNozzle(MachineProfile profile) => ForNozzle(profile, profile.Probe.Offset);

    /// <summary>Where the nozzle can come down with the probe retracted.</summary>
    /// <param name="profile">The machine.</param>
    /// <param name="offset">The probe's offset as the controller has it, if it differs from the profile's.</param>
    public static ReachableArea ForNozzle(MachineProfile profile, ProbeOffset offset)
    {
        ArgumentNullException.ThrowIfNull(profile);
        BedRectangle plate = PlateOf(profile);
        BedRectangle bounds = plate.Intersect(profile.Travel.Nozzle);
        IEnumerable<BedRectangle> excluded = profile.Bed.Clips.Select(clip => clip.Inset(-NozzleClipMarginMm));
        if (profile.Probe.RetractedAboveNozzleMm < profile.Bed.ClipHeightMm && profile.Probe.Kind != ProbeKind.NozzleContact)
        {
            excluded = excluded.Concat(profile.Bed.Clips.Select(clip => clip.Inset(-ProbeClipMarginMm).Shift(-offset.X, -offset.Y)));
        }

        return new ReachableArea(bounds, Within(bounds, excluded), plate);
    }

    /// <summary>Whether the place can be touched or approached.</summary>
    public bool CanTouch(BedPoint place) => Bounds.Contains(place) && !OnExcluded(place);

    /// <summary>Whether the place is kept free because of a clip.</summary>
    public bool OnExcluded(BedPoint place) => Excluded.Any(rectangle => rectangle.Contains(place));

    /// <summary>The strips of the plate beyond <see cref="Bounds"/>, for showing: left, right, front, back, those that have an area.</summary>
    public ImmutableArray<BedRectangle> UnreachableStrips()
    {
        if (Bounds.IsEmpty)
        {
            return [Plate];
        }

        BedRectangle[] strips =
        [
            Plate with { MaxX = Bounds.MinX },
            Plate with { MinX = Bounds.MaxX },
            new(Bounds.MinX, Plate.MinY, Bounds.MaxX, Bounds.MinY),
            new(Bounds.MinX, Bounds.MaxY, Bounds.MaxX, Plate.MaxY),
        ];
        return [.. strips.Where(strip => !strip.IsEmpty)];
    }

    private static BedRectangle PlateOf(MachineProfile profile) => new(0, 0, profile.Bed.WidthMm, profile.Bed.DepthMm);

    private static ImmutableArray<BedRectangle> Within(BedRectangle bounds, IEnumerable<BedRectangle> rectangles) =>
        [.. rectangles.Select(rectangle => rectangle.Intersect(bounds)).Where(rectangle => !rectangle.IsEmpty)];
}
