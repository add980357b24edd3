using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Steps.FirstLayer;

/// <summary>Parameters of the first-layer step.</summary>
/// <param name="NozzleCelsius">Printing temperature of the nozzle, 170 to 300.</param>
/// <param name="FilamentMm">Diameter of the filament, 1 to 3.2.</param>
/// <param name="LineWidthMm">Width of a line, 0.2 to 1.2.</param>
/// <param name="Flow">Share of the computed amount, 0.8 to 1.2.</param>
/// <param name="FeedMmPerMin">Feed of laying, 300 to 3000.</param>
/// <param name="NudgeMm">How far one nudge goes, 0.005 to 0.02.</param>
/// <param name="CheckPlaces">At how many of its most doubtful places the predicted gap map is checked, 0 to 6.</param>
/// <param name="Streams">Whether this program lays the patches; else the machine prints them from a file, and only their looks are asked.</param>
internal sealed record FirstLayerParameters(
    double NozzleCelsius, double FilamentMm, double LineWidthMm, double Flow, double FeedMmPerMin, double NudgeMm, int CheckPlaces, bool Streams)
{
    private const double UsualNozzleCelsius = 210;
    private const double UsualFilamentMm = 1.75;
    private const double UsualLineWidthMm = 0.45;
    private const double UsualFlow = 1;
    private const double UsualFeedMmPerMin = 1200;

    /// <summary>Keys: <c>nozzle_celsius</c>, <c>filament_mm</c>, <c>line_width_mm</c>, <c>flow</c>, <c>feed_mm_per_min</c>, <c>nudge_mm</c>, <c>check_places</c>, <c>stream</c>.</summary>
    public static FirstLayerParameters Read(TomlSection section) => new(
        section.Number("nozzle_celsius", 170, 300, UsualNozzleCelsius),
        section.Number("filament_mm", 1, 3.2, UsualFilamentMm),
        section.Number("line_width_mm", 0.2, 1.2, UsualLineWidthMm),
        section.Number("flow", 0.8, 1.2, UsualFlow),
        section.Number("feed_mm_per_min", 300, 3000, UsualFeedMmPerMin),
        section.Number("nudge_mm", 0.005, 0.02, 0.01),
        section.Whole("check_places", 0, 6, 3),
        section.Flag("stream", true));

    /// <summary>What has to be set for the same patches to be written to a file, each as <c>--set key=value</c>; empty when all is usual.</summary>
    public string SetWords() => string.Concat(
        new (string Key, double Value, double Usual)[]
        {
            ("nozzle_celsius", NozzleCelsius, UsualNozzleCelsius), ("filament_mm", FilamentMm, UsualFilamentMm), ("line_width_mm", LineWidthMm, UsualLineWidthMm),
            ("flow", Flow, UsualFlow), ("feed_mm_per_min", FeedMmPerMin, UsualFeedMmPerMin),
        }
        .Where(one => one.Value != one.Usual)
        .Select(one => FormattableString.Invariant($" --set {one.Key}={one.Value:0.####}")));

    /// <summary>What a line of a layer takes.</summary>
    public Extrusion Laid(FirstLayerProfile layer) => new(LineWidthMm, layer.HeightMm, FilamentMm, Flow);
}
