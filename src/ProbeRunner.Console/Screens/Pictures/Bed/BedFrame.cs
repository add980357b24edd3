using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Console.Screens.Pictures.Bed;

/// <summary>Where the bed's places are on a canvas, seen from above with the front edge below; a cell is taken to be twice as high as wide.</summary>
/// <param name="Cells">The cells of the plate.</param>
/// <param name="WidthMm">Of the plate.</param>
/// <param name="DepthMm">Of the plate.</param>
internal readonly record struct BedFrame(Rect Cells, double WidthMm, double DepthMm)
{
    private const double CellShape = 2;

    /// <summary>The largest plate of the right shape in an area, in its middle.</summary>
    public static BedFrame Fit(Rect area, double widthMm, double depthMm)
    {
        (widthMm, depthMm) = (Sound(widthMm), Sound(depthMm));
        double scale = Math.Min(area.Columns / widthMm, CellShape * area.Rows / depthMm);
        int columns = Math.Clamp((int)Math.Round(widthMm * scale), Math.Min(1, area.Columns), area.Columns);
        int rows = Math.Clamp((int)Math.Round(depthMm * scale / CellShape), Math.Min(1, area.Rows), area.Rows);
        return new BedFrame(new Rect(area.Left + ((area.Columns - columns) / 2), area.Top + ((area.Rows - rows) / 2), columns, rows), widthMm, depthMm);
    }

    /// <summary>The column of an X; outside the plate when the place is.</summary>
    public int Column(double x) => Cells.Left + Cell(x, WidthMm, Cells.Columns);

    /// <summary>The row of a Y; outside the plate when the place is.</summary>
    public int Row(double y) => Cells.Bottom - 1 - Cell(y, DepthMm, Cells.Rows);

    /// <summary>The X in the middle of a column.</summary>
    public double X(int column) => (column - Cells.Left + 0.5) / Math.Max(1, Cells.Columns) * WidthMm;

    /// <summary>The Y in the middle of a row.</summary>
    public double Y(int row) => (Cells.Bottom - row - 0.5) / Math.Max(1, Cells.Rows) * DepthMm;

    /// <summary>The place in the middle of a field, counted from the upper left of the plate.</summary>
    /// <param name="column">Of fields, one to a column.</param>
    /// <param name="field">Row of fields.</param>
    /// <param name="fields">How many rows of fields the plate has.</param>
    public BedPoint PlaceOf(int column, int field, int fields) =>
        new((column + 0.5) / Math.Max(1, Cells.Columns) * WidthMm, (fields - field - 0.5) / Math.Max(1, fields) * DepthMm);

    /// <summary>The cells of a rectangle on the bed; at least one cell wherever it has any part on the plate.</summary>
    public Rect CellsOf(BedRectangle rectangle)
    {
        BedRectangle inside = rectangle.Intersect(new BedRectangle(0, 0, WidthMm, DepthMm));
        if (inside.IsEmpty || Cells.IsEmpty)
        {
            return default;
        }

        int left = (int)Math.Floor(inside.MinX / WidthMm * Cells.Columns);
        int right = Math.Max(left + 1, (int)Math.Round(inside.MaxX / WidthMm * Cells.Columns));
        int front = (int)Math.Floor(inside.MinY / DepthMm * Cells.Rows);
        int back = Math.Max(front + 1, (int)Math.Round(inside.MaxY / DepthMm * Cells.Rows));
        return new Rect(Cells.Left + left, Cells.Bottom - back, right - left, back - front).Intersect(Cells);
    }

    /// <summary>A half-entered profile may say anything.</summary>
    private static double Sound(double side) => side is >= 1 and <= 100_000 ? side : 1;

    private static int Cell(double value, double span, int cells)
    {
        double at = value / span * cells;
        return double.IsFinite(at) ? (int)Math.Clamp(Math.Floor(at) - (value >= span && value <= span * 1.000001 ? 1 : 0), -1_000, 100_000) : -1_000;
    }
}
