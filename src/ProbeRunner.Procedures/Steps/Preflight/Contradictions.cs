using System.Collections.Immutable;
using System.Globalization;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.Preflight;

/// <summary>What the controller says of itself and the profile says otherwise.</summary>
internal static class Contradictions
{
    private const double OffsetToleranceMm = 0.5;
    private const double StepToleranceShare = 0.01;
    private const string StepsPerMmZ = "steps per mm Z";

    /// <summary>All of them, the dangerous first.</summary>
    public static ImmutableArray<Finding> Between(MachineProfile profile, ProbeOffset offset, SettingsReport settings)
    {
        var found = ImmutableArray.CreateBuilder<Finding>();
        double apartMm = Math.Max(Math.Abs(offset.X - profile.Probe.Offset.X), Math.Abs(offset.Y - profile.Probe.Offset.Y));
        if (apartMm > OffsetToleranceMm)
        {
            found.Add(new Finding(
                "preflight.offset-contradiction",
                "The controller's probe offset in X and Y is not the profile's.",
                null,
                "probe",
                1,
                FormattableString.Invariant($"Controller {offset.X:0.00}, {offset.Y:0.00} mm; profile {profile.Probe.Offset.X:0.00}, {profile.Probe.Offset.Y:0.00} mm."),
                "Measure from nozzle to probe tip with a ruler (left and front are negative) and correct the one that is wrong."));
        }

        if (NumberAt(settings, StepsPerMmZ) is { } steps && steps > 0 && Math.Abs((1 / steps) - profile.Travel.ZStepMm) > StepToleranceShare * profile.Travel.ZStepMm)
        {
            found.Add(new Finding(
                "preflight.steps-contradiction",
                "The controller's finest Z step is not the profile's.",
                Math.Abs((1 / steps) - profile.Travel.ZStepMm),
                "Z axis",
                1,
                FormattableString.Invariant($"Controller {steps:0.##} steps per mm, so {1 / steps:0.0000} mm; profile {profile.Travel.ZStepMm:0.0000} mm."),
                "Correct the profile's z_step_mm, or find out who changed the controller's steps per mm: heights would be wrong in proportion."));
        }

        return found.ToImmutable();
    }

    private static double? NumberAt(SettingsReport settings, string name) =>
        settings.Values.TryGetValue(name, out string? text)
        && double.TryParse(text.Split(' ')[0], NumberStyles.Float, CultureInfo.InvariantCulture, out double number)
            ? number
            : null;
}
