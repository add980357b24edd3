using System.Collections.Immutable;
using ProbeRunner.Metrology.Planes;

namespace ProbeRunner.Metrology.Meshes;

/// <summary>Heights of a surface on a dense lattice: what meshes are judged against.</summary>
public sealed record SurfaceMap
{
    /// <summary>A map.</summary>
    /// <param name="xs">X of the columns, mm, rising.</param>
    /// <param name="ys">Y of the rows, mm, rising.</param>
    /// <param name="heights">Heights, mm, row by row from the front, each row from the left.</param>
    /// <exception cref="ArgumentException">There is not one height for each pair of column and row.</exception>
    public SurfaceMap(ImmutableArray<double> xs, ImmutableArray<double> ys, ImmutableArray<double> heights)
    {
        if (xs.IsDefaultOrEmpty || ys.IsDefaultOrEmpty || heights.IsDefault || heights.Length != xs.Length * ys.Length)
        {
            throw new ArgumentException("A map needs one height for each pair of column and row.", nameof(heights));
        }

        (Xs, Ys, Heights) = (xs, ys, heights);
    }

    /// <summary>X of the columns, mm, rising.</summary>
    public ImmutableArray<double> Xs { get; }

    /// <summary>Y of the rows, mm, rising.</summary>
    public ImmutableArray<double> Ys { get; }

    /// <summary>Heights, mm, row by row from the front, each row from the left.</summary>
    public ImmutableArray<double> Heights { get; }

    /// <summary>Height at a column and row, mm.</summary>
    public double this[int column, int row] => Heights[(row * Xs.Length) + column];

    /// <summary>Samples a surface over a box, edges included.</summary>
    /// <param name="box">The area.</param>
    /// <param name="columns">Columns, 2 or more.</param>
    /// <param name="rows">Rows, 2 or more.</param>
    /// <param name="surface">Height at a place, mm.</param>
    public static SurfaceMap Of(Box box, int columns, int rows, Func<double, double, double> surface)
    {
        ArgumentNullException.ThrowIfNull(surface);
        ImmutableArray<double> xs = Evenly(box.MinX, box.MaxX, columns), ys = Evenly(box.MinY, box.MaxY, rows);
        return new SurfaceMap(xs, ys, [.. ys.SelectMany(y => xs.Select(x => surface(x, y)))]);
    }

    /// <summary>Evenly spaced numbers, both ends included.</summary>
    public static ImmutableArray<double> Evenly(double first, double last, int count)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 2);
        return [.. Enumerable.Range(0, count).Select(i => i == count - 1 ? last : first + ((last - first) * i / (count - 1)))];
    }
}
