using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.XyOffset;

/// <summary>What an offset means for the places that probe and nozzle can get to.</summary>
internal static class ReachFindings
{
    /// <summary>The homing place should lie within this share of the plate's size from its middle.</summary>
    private const double NearMiddleShare = 0.15;

    private const double SameOffsetMm = 0.5;

    /// <summary>All of them, those that must be put right first.</summary>
    public static ImmutableArray<Finding> For(MachineProfile profile, ProbeOffset offset)
    {
        ReachableArea probe = ReachableArea.ForProbe(profile, offset);
        ReachableArea nozzle = ReachableArea.ForNozzle(profile, offset);
        var found = ImmutableArray.CreateBuilder<Finding>();
        BedPoint home = profile.Travel.HomingPlace;
        if (!probe.CanTouch(home))
        {
            found.Add(Note(
                "probe-offset.homing-place-unreachable", "The probe can't touch the homing place with this offset.", Place(home),
                probe.OnExcluded(home) ? "A clip is in the way of the probe or of the nozzle beside it." : $"It reaches {Words(probe.Bounds)}.",
                "Choose a homing place that the probe reaches, off the clips, in the controller and in the profile."));
        }
        else if (Math.Abs(home.X - (profile.Bed.WidthMm / 2)) > NearMiddleShare * profile.Bed.WidthMm
            || Math.Abs(home.Y - (profile.Bed.DepthMm / 2)) > NearMiddleShare * profile.Bed.DepthMm)
        {
            found.Add(Note(
                "probe-offset.homing-place-off-middle", "The homing place is far from the bed's middle.", Place(home),
                FormattableString.Invariant($"The middle is x {profile.Bed.WidthMm / 2:0}, y {profile.Bed.DepthMm / 2:0}."),
                "Home near the middle, where turning a screw or a bent corner changes the datum least."));
        }

        if (Math.Max(Math.Abs(offset.X - profile.Probe.Offset.X), Math.Abs(offset.Y - profile.Probe.Offset.Y)) > SameOffsetMm)
        {
            found.Add(Note(
                "probe-offset.profile-differs", "The profile has another probe offset.", "probe",
                FormattableString.Invariant($"Measured {offset.X:0.00}, {offset.Y:0.00} mm; profile {profile.Probe.Offset.X:0.00}, {profile.Probe.Offset.Y:0.00} mm."),
                "Correct offset_mm in the machine's profile, so that grids are planned for where the probe really is."));
        }

        foreach (BedRectangle strip in probe.UnreachableStrips())
        {
            found.Add(Note(
                "probe-offset.probe-cannot-reach", "The probe can never touch this strip of the bed.", Words(strip),
                $"With this offset and the nozzle's travel it reaches {Words(probe.Bounds)}.",
                "Heights there are estimated from those beside it; judge first layers there by eye."));
        }

        foreach (BedRectangle kept in probe.Excluded)
        {
            found.Add(Note(
                "probe-offset.probe-kept-off", "The probe keeps off this place because of a clip.", Words(kept),
                "The clip would be under the probe, or under the nozzle beside it.", "Nothing, unless the clip can be moved; then change the profile too."));
        }

        foreach (BedRectangle place in nozzle.UnreachableStrips().Concat(nozzle.Excluded))
        {
            found.Add(Note(
                "probe-offset.nozzle-cannot-reach", "The nozzle can't come down at this place.", Words(place),
                $"It reaches {Words(nozzle.Bounds)}, off the clips.", "Lay nothing there."));
        }

        return found.ToImmutable();
    }

    private static Finding Note(string id, string title, string where, string evidence, string next) => new(id, title, null, where, 1, evidence, next);

    private static string Place(BedPoint at) => FormattableString.Invariant($"x {at.X:0.#}, y {at.Y:0.#}");

    private static string Words(BedRectangle area) =>
        FormattableString.Invariant($"x {area.MinX:0.#} to {area.MaxX:0.#}, y {area.MinY:0.#} to {area.MaxY:0.#}");
}
