using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Reach;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>The places of a grid in the order they are visited: row by row from the front, to and fro.</summary>
/// <param name="Area">The rectangle that the grid spans.</param>
/// <param name="Places">Those that can be touched, in visiting order.</param>
/// <param name="LeftOut">Those kept free because of a clip.</param>
internal sealed record GridPlaces(BedRectangle Area, ImmutableArray<BedPoint> Places, ImmutableArray<BedPoint> LeftOut)
{
    /// <summary>The grid over all that the probe can reach.</summary>
    public static GridPlaces Over(ReachableArea reach, int columns, int rows)
    {
        BedRectangle area = reach.Bounds;
        var all = Enumerable.Range(0, rows).SelectMany(row => Enumerable.Range(0, columns).Select(column => new BedPoint(
            At(area.MinX, area.MaxX, row % 2 == 0 ? column : columns - 1 - column, columns),
            At(area.MinY, area.MaxY, row, rows)))).ToList();
        return new GridPlaces(area, [.. all.Where(reach.CanTouch)], [.. all.Where(place => !reach.CanTouch(place))]);
    }

    private static double At(double first, double last, int index, int count) =>
        Math.Round(index == count - 1 ? last : first + ((last - first) * index / (count - 1)), 3);
}
