using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Requests;
using ProbeRunner.Procedures.Steps.Heating;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>
/// How hot a capture is taken. Cold unless asked for: whatever heats with nobody at the machine is refused without an explicit permission.
/// </summary>
/// <param name="BedCelsius">Bed, degC; 0 leaves it off.</param>
/// <param name="NozzleCelsius">Nozzle, degC; 0 leaves it off.</param>
/// <param name="Soak">How long the bed is to have had its temperature before the first touch; null for the profile's soak.</param>
/// <param name="PausesBed">Whether the bed's heater is off during each touch, so that its current does not disturb the probe.</param>
internal sealed record CaptureHeat(double BedCelsius, double NozzleCelsius, TimeSpan? Soak, bool PausesBed)
{
    private const double HottestBedCelsius = 150;
    private const double HottestNozzleCelsius = 350;
    private const double LongestSoakMinutes = 240;

    /// <summary>Whether a heater is switched on at all.</summary>
    public bool IsOn => BedCelsius > 0 || NozzleCelsius > 0;

    /// <summary>The bed's target that each touch puts back; null where nothing is paused.</summary>
    public double? PausedBedCelsius => PausesBed && BedCelsius > 0 ? BedCelsius : null;

    /// <summary>
    /// Keys: <c>bed_celsius</c>, 0 to 150, 0; <c>nozzle_celsius</c>, 0 to 350, 0; <c>soak_minutes</c>, 0 to 240, the profile's;
    /// <c>pause_bed_heater</c>, false.
    /// </summary>
    public static CaptureHeat Read(TomlSection section) => new(
        section.Number("bed_celsius", 0, HottestBedCelsius, 0),
        section.Number("nozzle_celsius", 0, HottestNozzleCelsius, 0),
        section.Has("soak_minutes") ? TimeSpan.FromMinutes(section.Number("soak_minutes", 0, LongestSoakMinutes, 0)) : null,
        section.Flag("pause_bed_heater", false));

    /// <summary>Why this machine must not be heated so; null when it may.</summary>
    public string? WhyImpossible(MachineProfile profile) => BedCelsius > profile.Heat.BedCapCelsius || NozzleCelsius > profile.Heat.NozzleCapCelsius
        ? FormattableString.Invariant($"its temperatures are above this machine's caps of {profile.Heat.BedCapCelsius:0} degC for the bed and {profile.Heat.NozzleCapCelsius:0} degC for the nozzle; set bed_celsius and nozzle_celsius lower.")
        : null;

    /// <summary>What a person is told before hands are clear; empty when nothing heats.</summary>
    public string Caution(HeatProfile heat) => IsOn
        ? $"First {Heating(heat)}; what is hot stays so until the capture is over and burns for long afterwards. Then Z is homed. "
        : string.Empty;

    /// <summary>Heats, soaks and homes Z again, since heat moved the bed; nothing when all stays cold. In a section of its own.</summary>
    /// <param name="context">The step.</param>
    /// <param name="cold">What the machine told before.</param>
    /// <returns>The temperatures that the capture is taken at, and for how long the bed has had its own, in whatever step of the run that was.</returns>
    public async Task<(Temperatures Heat, TimeSpan Soaked)> ReachAsync(StepContext context, Temperatures cold)
    {
        Temperatures heat = IsOn ? await HeatAsync(context) : cold;
        return (heat, heat.BedTargetCelsius > 0 ? await context.DoAsync(new ReadSoak(heat.BedTargetCelsius, null)) : TimeSpan.Zero);
    }

    /// <summary>Puts the targets back as they were before; in the section of the capture.</summary>
    public Task LeaveAsync(StepContext context, Temperatures asFound) => IsOn
        ? context.DoAsync(new SetHeaterTargets(asFound.NozzleTargetCelsius, asFound.BedTargetCelsius))
        : Task.CompletedTask;

    private async Task<Temperatures> HeatAsync(StepContext context)
    {
        var plan = new HeatPlan(NozzleCelsius, BedCelsius, BedCelsius > 0 ? SoakOf(context.Profile.Heat) : TimeSpan.Zero);
        return await context.InSectionAsync("heat", Retake.WhenInterrupted, null, async () =>
        {
            Temperatures hot = await HotBed.ReachAsync(context, plan);
            await context.DoAsync(new HomeAxes(Axes.Z));
            return hot;
        });
    }

    private string Heating(HeatProfile heat)
    {
        var nozzle = NozzleCelsius > 0 ? FormattableString.Invariant($"the nozzle heats to {NozzleCelsius:0} degC") : null;
        var soak = SoakOf(heat) > TimeSpan.Zero ? FormattableString.Invariant($" and soaks for {SoakOf(heat).TotalMinutes:0} minutes") : string.Empty;
        var bed = BedCelsius > 0 ? FormattableString.Invariant($"the bed heats to {BedCelsius:0} degC{soak}") : null;
        return string.Join(", ", new[] { nozzle, bed }.OfType<string>());
    }

    private TimeSpan SoakOf(HeatProfile heat) => Soak ?? heat.Soak;
}
