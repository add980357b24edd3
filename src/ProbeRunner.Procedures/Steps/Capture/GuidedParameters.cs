using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>Parameters of the guided capture.</summary>
/// <param name="TargetRmsMm">Root mean square error of the map that is wanted, mm, 0.005 to 0.2.</param>
/// <param name="MostTouches">Places after which it gives up, 9 to 400.</param>
/// <param name="MostMinutes">Minutes after which it gives up, 1 to 1440.</param>
/// <param name="Batch">Places chosen at a time, 1 to 16: more save travel and cost a few touches.</param>
/// <param name="BumpWidthMm">Full width at half height of the bumps that it says could have been missed, mm, 5 to 200.</param>
/// <param name="Area">Where the map must be good; null for the printable area.</param>
/// <param name="TouchSigmaMm">Standard deviation of one touch where no series in this run measured it, mm; 0 when it isn't known.</param>
/// <param name="Rule">How each place is touched.</param>
internal sealed record GuidedParameters(
    double TargetRmsMm, int MostTouches, double MostMinutes, int Batch, double BumpWidthMm, BedRectangle? Area, double TouchSigmaMm, CaptureRule Rule)
{
    /// <summary>Standard deviation of one touch as the script tells it, mm; null when it doesn't.</summary>
    public double? KnownSigmaMm => TouchSigmaMm > 0 ? TouchSigmaMm : null;

    /// <summary>Keys: target_rms_mm, most_touches, most_minutes, batch, bump_width_mm, area_mm, touch_sigma_mm, and those of <see cref="CaptureRule.Read"/>.</summary>
    public static GuidedParameters Read(TomlSection section) => new(
        section.Number("target_rms_mm", 0.005, 0.2, 0.02),
        section.Whole("most_touches", 9, 400, 120),
        section.Number("most_minutes", 1, 1440, 240),
        section.Whole("batch", 1, 16, 1),
        section.Number("bump_width_mm", 5, 200, 30),
        GridParameters.AreaOf(section),
        section.Number("touch_sigma_mm", 0, 0.1, 0),
        CaptureRule.Read(section, touches: 1, referenceEvery: 0, referenceMinutes: 10));
}
