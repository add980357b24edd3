using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Steps.CheckAgain;

/// <summary>Parameters of the check.</summary>
/// <param name="Earlier">What is checked against; null when nothing was handed in.</param>
/// <param name="Columns">Places along X.</param>
/// <param name="Rows">Places along Y.</param>
/// <param name="SeriesTouches">Touches at the homing place, for the probe's scatter.</param>
/// <param name="ToleranceMm">Change of the bed that doesn't matter.</param>
internal sealed record CheckAgainParameters(EarlierCapture? Earlier, int Columns, int Rows, int SeriesTouches, double ToleranceMm)
{
    /// <summary>
    /// Keys: those of <see cref="EarlierCapture.Read"/>; <c>columns</c> and <c>rows</c>, 3 to 15, 5; <c>series_touches</c>, 6 to 40, 8;
    /// <c>tolerance_mm</c>, 0.01 to 0.3, 0.05.
    /// </summary>
    public static CheckAgainParameters Read(TomlSection section) => new(
        EarlierCapture.Read(section),
        section.Whole("columns", 3, 15, 5),
        section.Whole("rows", 3, 15, 5),
        section.Whole("series_touches", 6, 40, 8),
        section.Number("tolerance_mm", 0.01, 0.3, 0.05));
}
