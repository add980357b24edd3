using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;
using ProbeRunner.Console.Screens.Pictures;

namespace ProbeRunner.Console.Screens.Running;

/// <summary>The cursor that reads any place of a map, and which layer of it is shown; kept apart from the run, which knows neither.</summary>
internal sealed class MapReader
{
    private MapState? reading;
    private bool showsUncertainty;

    /// <summary>Keys for a map.</summary>
    public IEnumerable<KeyEntry> Keys =>
    [
        KeyEntry.LeftRight("read a place", "Moves the cursor that reads the map to the left and right.", by => Move(by, 0)),
        KeyEntry.UpDown("read", "Moves the cursor to the back and to the front.", by => Move(0, -Math.Sign(by))) with { InFooter = false },
        KeyEntry.Of("uncertainty", "Shows the uncertainty of the map instead of its heights, or the heights again.", () => showsUncertainty = !showsUncertainty, 'u'),
    ];

    /// <summary>A picture as it is read: a map with cursor and layer, any other as it is.</summary>
    public PictureState Over(PictureState picture)
    {
        if (picture is not MapState map)
        {
            reading = null;
            return picture;
        }

        reading = map with { Cursor = reading?.Cursor, Layer = showsUncertainty ? MapLayer.Uncertainty : MapLayer.Height };
        return reading;
    }

    /// <summary>Puts the cursor on the place that is shown at a cell.</summary>
    public void Click(Rect room, int column, int row)
    {
        if (reading is { } map && MapPicture.PlaceAt(room, map, column, row) is { } place)
        {
            reading = map with { Cursor = place };
        }
    }

    private void Move(int right, int back) => reading = reading?.WithCursorMoved(right, back);
}
