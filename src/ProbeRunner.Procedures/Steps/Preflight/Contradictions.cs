using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.Preflight;

/// <summary>What the controller says of itself and the profile says otherwise, and what else of it a person should know.</summary>
internal static class Contradictions
{
    private const double OffsetToleranceMm = 0.5;
    private const double StepToleranceShare = 0.01;
    private const double TravelToleranceMm = 0.5;
    private const double MeshToleranceMm = 0.5;

    /// <summary>Steps outside this on any machine of this kind are a slip of the pen: common practice, no source.</summary>
    private const double FewestSteps = 5;
    private const double MostSteps = 20_000;

    /// <summary>What can't both be true, the dangerous first.</summary>
    public static ImmutableArray<Finding> Between(MachineProfile profile, MachineAsFound found) =>
    [
        .. Offsets(profile, found.Offset), .. ZSteps(profile, found), .. LevelSteps(found), .. Travel(profile, found.Limits), .. Bed(profile, found.Mesh),
    ];

    /// <summary>What is no contradiction, but should be known.</summary>
    public static ImmutableArray<Finding> Notes(MachineAsFound found)
    {
        var notes = ImmutableArray.CreateBuilder<Finding>();
        if (found.Look.MeshCorrectionOn == true)
        {
            notes.Add(New(
                "mesh-on", "Mesh correction is on.", "controller", "The controller adds its mesh to every height.",
                "Nothing: it is switched off for measuring, and put back at the end as it was found."));
        }

        if (found.Look.SoftLimitsOn == false)
        {
            notes.Add(New(
                "soft-limits-off", "The controller's own travel limits are off.", "controller", "It would drive an axis against its end if told to.",
                "The guard here holds all the same. Find out who switched them off, and switch them on again for printing."));
        }

        if (found.Setting("steps per mm Z") is null)
        {
            notes.Add(New(
                "steps-unknown", "The controller does not say its steps per mm.", "Z axis", "So its finest Z step could not be compared with the profile's.",
                "Compare a move of 50 mm with a ruler once; heights would be wrong in proportion."));
        }

        if (found.Limits is null)
        {
            notes.Add(New(
                "limits-unknown", "The controller does not say its travel limits.", "controller", "So they could not be compared with the profile's.",
                "See that the profile's travel is the machine's: the guard goes by it."));
        }

        return notes.ToImmutable();
    }

    private static IEnumerable<Finding> Offsets(MachineProfile profile, ProbeOffset offset)
    {
        if (offset.Z > 0)
        {
            yield return New(
                "offset-above-zero", "The stored Z offset has the wrong sign.", "probe",
                FormattableString.Invariant($"It is {offset.Z:+0.000} mm; the nozzle stands above the bed when the probe triggers, so that it must be negative, or 0 while it is unknown."),
                "Set it to 0 before anything is homed: with this one the nozzle would be driven into the bed at the first print.", offset.Z);
        }

        double apartMm = Math.Max(Math.Abs(offset.X - profile.Probe.Offset.X), Math.Abs(offset.Y - profile.Probe.Offset.Y));
        if (apartMm > OffsetToleranceMm)
        {
            yield return New(
                "offset-contradiction", "The controller's probe offset in X and Y is not the profile's.", "probe",
                FormattableString.Invariant($"Controller {offset.X:0.00}, {offset.Y:0.00} mm; profile {profile.Probe.Offset.X:0.00}, {profile.Probe.Offset.Y:0.00} mm."),
                "The probe would touch beside the places it is sent to, perhaps beside the bed. Measure from nozzle to probe tip with a ruler (left and front are negative) and correct the one that is wrong.");
        }
    }

    private static IEnumerable<Finding> ZSteps(MachineProfile profile, MachineAsFound found)
    {
        double wanted = profile.Travel.ZStepMm;
        if (found.Setting("steps per mm Z") is { } steps && (steps <= 0 || Math.Abs((1 / steps) - wanted) > StepToleranceShare * wanted))
        {
            yield return New(
                "steps-contradiction", "The controller's finest Z step is not the profile's.", "Z axis",
                FormattableString.Invariant($"Controller {steps:0.##} steps per mm, so {(steps > 0 ? 1 / steps : 0):0.0000} mm; profile {wanted:0.0000} mm."),
                "Correct the profile's z_step_mm, or find out who changed the controller's steps per mm: heights would be wrong in proportion.",
                steps > 0 ? Math.Abs((1 / steps) - wanted) : null);
        }
    }

    private static IEnumerable<Finding> LevelSteps(MachineAsFound found)
    {
        foreach (string axis in new[] { "X", "Y" })
        {
            if (found.Setting($"steps per mm {axis}") is { } steps && steps is < FewestSteps or > MostSteps)
            {
                yield return New(
                    $"steps-odd-{axis.ToLowerInvariant()}", $"The controller's steps per mm of {axis} can't be right.", $"{axis} axis",
                    FormattableString.Invariant($"It says {steps:0.##}."), $"Correct them in the controller before anything moves: every place along {axis} would be wrong in proportion.");
            }
        }
    }

    private static IEnumerable<Finding> Travel(MachineProfile profile, TravelLimits? limits)
    {
        if (limits is null)
        {
            yield break;
        }

        BedRectangle wanted = profile.Travel.Nozzle;
        (string Axis, double MinMm, double MaxMm, double WantedMinMm, double WantedMaxMm)[] axes =
        [
            ("X", limits.Nozzle.MinX, limits.Nozzle.MaxX, wanted.MinX, wanted.MaxX),
            ("Y", limits.Nozzle.MinY, limits.Nozzle.MaxY, wanted.MinY, wanted.MaxY),
            ("Z", double.NegativeInfinity, limits.HighestZ, 0, profile.Travel.HighestZ),
        ];
        foreach (var axis in axes.Where(axis => axis.MinMm > axis.WantedMinMm + TravelToleranceMm || axis.MaxMm < axis.WantedMaxMm - TravelToleranceMm))
        {
            string least = double.IsFinite(axis.MinMm) ? FormattableString.Invariant($"{axis.MinMm:0.#}") : "its lowest";
            yield return New(
                $"travel-{axis.Axis.ToLowerInvariant()}", $"The controller lets {axis.Axis} travel less far than the profile says.", $"{axis.Axis} axis",
                FormattableString.Invariant($"Controller {least} to {axis.MaxMm:0.#} mm in bed coordinates; profile {axis.WantedMinMm:0.#} to {axis.WantedMaxMm:0.#} mm."),
                "The controller would cut moves short, and what was measured there would belong to another place. Correct the profile's travel or controller_origin_mm, or the controller's limits.");
        }
    }

    private static IEnumerable<Finding> Bed(MachineProfile profile, MeshNodes? mesh)
    {
        if (mesh is null)
        {
            yield break;
        }

        BedRectangle plate = new BedRectangle(0, 0, profile.Bed.WidthMm, profile.Bed.DepthMm).Inset(-MeshToleranceMm);
        if (!plate.Contains(new BedPoint(mesh.Area.MinX, mesh.Area.MinY)) || !plate.Contains(new BedPoint(mesh.Area.MaxX, mesh.Area.MaxY)))
        {
            yield return New(
                "bed-size", "The controller's mesh reaches beyond the profile's plate.", "bed",
                FormattableString.Invariant($"Its nodes span x {mesh.Area.MinX:0.#} to {mesh.Area.MaxX:0.#}, y {mesh.Area.MinY:0.#} to {mesh.Area.MaxY:0.#}; the plate is {profile.Bed.WidthMm:0.#} by {profile.Bed.DepthMm:0.#} mm."),
                "Controller and profile are for beds of different size, or count from different corners. Correct the profile's bed or controller_origin_mm, or the controller's bed size.");
        }
    }

    private static Finding New(string id, string title, string where, string evidence, string next, double? effectMm = null) =>
        new($"preflight.{id}", title, effectMm, where, 1, evidence, next);
}
