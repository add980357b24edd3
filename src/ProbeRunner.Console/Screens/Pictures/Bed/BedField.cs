using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Console.Screens.Pictures.Bed;

/// <summary>A quantity on an even lattice over part of the bed.</summary>
/// <param name="Area">What the lattice spans.</param>
/// <param name="Columns">Along X.</param>
/// <param name="Rows">Along Y.</param>
/// <param name="Values">Row by row, front row first.</param>
internal sealed record BedField(BedRectangle Area, int Columns, int Rows, ImmutableArray<double> Values)
{
    /// <summary>Heights of a surface.</summary>
    public static BedField HeightsOf(SurfaceMap map) => new(map.Area, map.Columns, map.Rows, map.Heights);

    /// <summary>Standard uncertainties of a surface.</summary>
    public static BedField UncertaintiesOf(SurfaceMap map) => new(map.Area, map.Columns, map.Rows, map.Uncertainties);

    /// <summary>The value at a place, bilinear between the lattice's points; NaN outside.</summary>
    public double At(BedPoint place)
    {
        if (!Area.Contains(place) || Columns < 1 || Rows < 1 || Values.IsDefault || Values.Length < Columns * Rows)
        {
            return double.NaN;
        }

        (int column, double right) = Split(place.X, Area.MinX, Area.MaxX, Columns);
        (int row, double up) = Split(place.Y, Area.MinY, Area.MaxY, Rows);
        int nextColumn = Math.Min(column + 1, Columns - 1);
        int nextRow = Math.Min(row + 1, Rows - 1);
        double front = (Values[(row * Columns) + column] * (1 - right)) + (Values[(row * Columns) + nextColumn] * right);
        double back = (Values[(nextRow * Columns) + column] * (1 - right)) + (Values[(nextRow * Columns) + nextColumn] * right);
        return (front * (1 - up)) + (back * up);
    }

    /// <summary>The place of a lattice point.</summary>
    public BedPoint PlaceOf(int index) => new(
        Between(Area.MinX, Area.MaxX, index % Columns, Columns), Between(Area.MinY, Area.MaxY, index / Columns, Rows));

    private static double Between(double low, double high, int index, int count) => count > 1 ? low + ((high - low) * index / (count - 1)) : (low + high) / 2;

    private static (int Index, double Part) Split(double value, double low, double high, int count)
    {
        double at = high > low ? (value - low) / (high - low) * (count - 1) : 0;
        int index = Math.Clamp((int)at, 0, count - 1);
        return (index, Math.Clamp(at - index, 0, 1));
    }
}
