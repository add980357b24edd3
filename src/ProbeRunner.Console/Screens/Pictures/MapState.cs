using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>What a map shows.</summary>
internal enum MapLayer
{
    /// <summary>Heights, mm.</summary>
    Height,

    /// <summary>Standard uncertainty of the heights, mm.</summary>
    Uncertainty,
}

/// <summary>A map of the bed, growing or finished.</summary>
/// <param name="Bed">The bed.</param>
/// <param name="Readings">Readings so far.</param>
/// <param name="Heights">The surface, once there is one; heights relative to the homing place.</param>
/// <param name="Uncertainties">Its standard uncertainty.</param>
/// <param name="Layer">What is shown; without an uncertainty always the heights.</param>
/// <param name="Cursor">The place that is read out; null for none.</param>
/// <param name="Planned">How many readings are planned; null when that is decided as it goes.</param>
internal sealed record MapState(
    BedOutline Bed,
    ReadingRaster Readings,
    BedField? Heights,
    BedField? Uncertainties,
    MapLayer Layer,
    BedPoint? Cursor,
    int? Planned) : PictureState
{
    /// <summary>A map without readings.</summary>
    public static MapState Empty(BedOutline bed, int? planned = null) =>
        new(bed, ReadingRaster.Over(bed.WidthMm, bed.DepthMm), null, null, MapLayer.Height, null, planned);

    /// <summary>The same with the cursor moved by parts of the bed; the first move shows it in the middle.</summary>
    /// <param name="right">Steps to the right; a step is a fortieth of the bed.</param>
    /// <param name="back">Steps to the back.</param>
    public MapState WithCursorMoved(int right, int back) => this with
    {
        Cursor = Cursor is { } at
            ? new BedPoint(
                Math.Clamp(at.X + (right * Bed.WidthMm / 40), 0, Bed.WidthMm), Math.Clamp(at.Y + (back * Bed.DepthMm / 40), 0, Bed.DepthMm))
            : new BedPoint(Bed.WidthMm / 2, Bed.DepthMm / 2),
    };
}
