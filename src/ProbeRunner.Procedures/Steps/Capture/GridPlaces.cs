using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Reach;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>
/// The places of a grid in the order they are visited: line by line, to and fro, along the longer side, so that the way between the places is
/// nearly the shortest there is. The probe lifts by the same amount between any two, so only the level way counts.
/// </summary>
/// <param name="Area">The rectangle that the grid spans.</param>
/// <param name="Columns">Places along X.</param>
/// <param name="Rows">Places along Y.</param>
/// <param name="Places">Those that can be touched, in visiting order.</param>
/// <param name="LeftOut">Those kept free because of a clip.</param>
internal sealed record GridPlaces(BedRectangle Area, int Columns, int Rows, ImmutableArray<BedPoint> Places, ImmutableArray<BedPoint> LeftOut)
{
    private const int MostSide = 200;

    /// <summary>The grid over what the probe can reach of the wanted area; empty when that is nothing.</summary>
    public static GridPlaces Over(ReachableArea reach, GridParameters parameters)
    {
        BedRectangle area = parameters.Area is { } wanted ? reach.Bounds.Intersect(wanted) : reach.Bounds;
        if (area.IsEmpty)
        {
            return new GridPlaces(area, 0, 0, [], []);
        }

        return Over(
            reach, area, Count(parameters.Columns, area.MaxX - area.MinX, parameters.SpacingMm), Count(parameters.Rows, area.MaxY - area.MinY, parameters.SpacingMm));
    }

    /// <summary>The grid of so many columns and rows over an area that the probe can reach.</summary>
    public static GridPlaces Over(ReachableArea reach, BedRectangle area, int columns, int rows)
    {
        bool alongX = (area.MaxX - area.MinX) / (columns - 1) <= (area.MaxY - area.MinY) / (rows - 1);
        (int lines, int each) = alongX ? (rows, columns) : (columns, rows);
        var all = Enumerable.Range(0, lines).SelectMany(line => Enumerable.Range(0, each).Select(step =>
        {
            int along = line % 2 == 0 ? step : each - 1 - step;
            (int column, int row) = alongX ? (along, line) : (line, along);
            return new BedPoint(At(area.MinX, area.MaxX, column, columns), At(area.MinY, area.MaxY, row, rows));
        })).ToList();
        return new GridPlaces(area, columns, rows, [.. all.Where(reach.CanTouch)], [.. all.Where(place => !reach.CanTouch(place))]);
    }

    /// <summary>The place of the grid nearest to a point: a reference point there keeps the grid full.</summary>
    public BedPoint NearestTo(BedPoint point) =>
        Places.MinBy(place => ((place.X - point.X) * (place.X - point.X)) + ((place.Y - point.Y) * (place.Y - point.Y)));

    private static int Count(int count, double side, double spacingMm) =>
        spacingMm > 0 ? Math.Clamp((int)Math.Ceiling(side / spacingMm) + 1, 3, MostSide) : count;

    private static double At(double first, double last, int index, int count) =>
        Math.Round(index == count - 1 ? last : first + ((last - first) * index / (count - 1)), 3);
}
