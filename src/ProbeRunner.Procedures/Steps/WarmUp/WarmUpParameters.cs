using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Steps.WarmUp;

/// <summary>Parameters of the warm-up watch.</summary>
/// <param name="Place">Where; the homing place when null.</param>
/// <param name="ToleranceMm">Remaining movement that doesn't matter.</param>
/// <param name="Most">Longest watch, counted from when both heaters are at their targets.</param>
/// <param name="Pause">Between two touches.</param>
/// <param name="KeepHot">Whether the heaters stay on for the steps that follow.</param>
internal sealed record WarmUpParameters(BedPoint? Place, double ToleranceMm, TimeSpan Most, TimeSpan Pause, bool KeepHot)
{
    /// <summary>
    /// Keys: <c>place_mm</c>; <c>tolerance_mm</c>, 0.002 to 0.1, 0.005; <c>most_minutes</c>, 5 to 120, 45; <c>pause_seconds</c>, 1 to 120, 12;
    /// <c>keep_hot</c>, false.
    /// </summary>
    public static WarmUpParameters Read(TomlSection section) => new(
        PlaceParameter.Read(section),
        section.Number("tolerance_mm", 0.002, 0.1, 0.005),
        TimeSpan.FromMinutes(section.Number("most_minutes", 5, 120, 45)),
        TimeSpan.FromSeconds(section.Number("pause_seconds", 1, 120, 12)),
        section.Flag("keep_hot", false));
}
