using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>What was captured: the rectangle, and the grid where there was one.</summary>
/// <param name="Area">The rectangle that the map covers.</param>
/// <param name="Columns">Of the grid; 0 when the places were chosen as it went.</param>
/// <param name="Rows">Likewise.</param>
/// <param name="LeftOut">Places kept free because of clips.</param>
internal sealed record CapturedArea(BedRectangle Area, int Columns, int Rows, int LeftOut);
