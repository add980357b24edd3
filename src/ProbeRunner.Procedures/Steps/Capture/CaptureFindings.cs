using ProbeRunner.Machine.Profiles;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>What a capture found, with what to do about it.</summary>
internal static class CaptureFindings
{
    private const double TiltWorthTurningMm = 0.2;
    private const double BendWorthNamingMm = 0.15;
    private const double DriftWorthNamingMm = 0.02;
    private const double SureOfDrift = 0.9;

    /// <summary>The findings, the largest effects first.</summary>
    public static IEnumerable<Finding> Of(CaptureTally tally, CapturedArea captured, PlaneFit plane, CaptureDetails details, MachineProfile profile) =>
        new[]
        {
            Tilted(plane, captured),
            Bent(plane),
            Drifted(details),
            Scattering(details, profile),
            Disagreeing(tally),
            MeshTooSmall(details.Mesh),
            LeftOut(captured),
        }.OfType<Finding>().OrderByDescending(finding => finding.EffectMm ?? 0);

    private static Finding? Tilted(PlaneFit plane, CapturedArea captured)
    {
        double x = plane.Plane.A * (captured.Area.MaxX - captured.Area.MinX), y = plane.Plane.B * (captured.Area.MaxY - captured.Area.MinY);
        double tilt = Math.Max(Math.Abs(x), Math.Abs(y));
        return tilt <= TiltWorthTurningMm ? null : new Finding(
            "grid.tilted", "The bed is tilted more than a mesh should have to correct.", tilt, "bed", 0.95,
            FormattableString.Invariant($"It rises by {x:0.00} mm from left to right and by {y:0.00} mm from front to back."),
            "Level it at its screws, then capture again.");
    }

    private static Finding? Bent(PlaneFit plane) => plane.PeakToValley <= BendWorthNamingMm ? null : new Finding(
        "grid.not-flat", "The bed is not flat, whatever its tilt.", plane.PeakToValley, "bed", 0.95,
        FormattableString.Invariant($"From highest to lowest it leaves its own plane by {plane.PeakToValley:0.00} mm."),
        "The correction mesh takes care of most of it; screws can't. A bend beyond half a millimetre wants another plate.");

    private static Finding? Drifted(CaptureDetails details)
    {
        if (details.Drift.IsEmpty || details.DriftProbability < SureOfDrift)
        {
            return null;
        }

        double least = details.Drift.Min(point => point.HeightMm), most = details.Drift.Max(point => point.HeightMm);
        return most - least <= DriftWorthNamingMm ? null : new Finding(
            "grid.drifted", "The height drifted while the bed was captured.", most - least, "bed or frame", details.DriftProbability,
            FormattableString.Invariant($"By {most - least:0.000} mm over {CaptureWords.Duration(details.Duration)}; the map is corrected for it by the revisits of the reference point."),
            "Let the machine settle longer before a capture, keep draughts and heaters away from it, and look for what creeps: a plate not seated, a loose bracket.");
    }

    private static Finding? Scattering(CaptureDetails details, MachineProfile profile) => details.TouchSigmaMm is not { } sigma || sigma <= profile.Probe.BadSigmaMm ? null : new Finding(
        "grid.scatter", "Touches of one place scatter more than a sound probe's.", sigma, "probe", 0.95,
        FormattableString.Invariant($"Standard deviation {sigma:0.000} mm, over all places together; {profile.Probe.BadSigmaMm:0.000} mm is the profile's limit of a bad probe."),
        "Don't use this map. Tighten the probe and its bracket, check its wiring, take a repeatability series, then capture again.");

    private static Finding? Disagreeing(CaptureTally tally) => tally.OutlierCount == 0 ? null : new Finding(
        "grid.touches-disagree", "Some touches contradicted others of the same place and were not counted.", null, "bed", 0.9,
        FormattableString.Invariant($"{tally.OutlierCount} of {tally.Touches} touches."),
        "If it happens often, look for dirt on bed or probe, and for electrical noise on the probe's cable.");

    private static Finding? MeshTooSmall(MeshNeed? mesh) => mesh is null || mesh.OwnFittedRmsMm <= mesh.ToleranceRmsMm ? null : new Finding(
        "grid.mesh-too-small", "The controller's correction mesh is too coarse for this bed.", mesh.OwnFittedRmsMm, "mesh", 0.9,
        FormattableString.Invariant($"Its {mesh.OwnColumns} x {mesh.OwnRows} nodes leave {mesh.OwnFittedRmsMm:0.000} mm rms even when fitted to the map."),
        mesh.SmallestColumns > 0
            ? FormattableString.Invariant($"A mesh of {mesh.SmallestColumns} x {mesh.SmallestRows} nodes would do; set the controller up for it if it can take so many.")
            : "No mesh up to 15 x 15 nodes would do: another plate is the better answer.");

    private static Finding? LeftOut(CapturedArea captured) => captured.LeftOut == 0 ? null : new Finding(
        "grid.places-left-out", "Some places of the grid lie on clips and were not touched.", null, "bed", 1,
        FormattableString.Invariant($"{captured.LeftOut} of {captured.Columns * captured.Rows} places."),
        "Nothing to do; the map is continued there from its surroundings, less surely.");
}
