using System.Collections.Immutable;

namespace ProbeRunner.Metrology.Meshes;

/// <summary>What a cubic spline does at its ends.</summary>
public enum SplineEnds
{
    /// <summary>No curvature at the ends.</summary>
    Natural,

    /// <summary>The first two and the last two pieces are one cubic each; needs four nodes or more.</summary>
    NotAKnot,
}

/// <summary>Bicubic interpolation of a grid of heights: cubic splines along both axes (de Boor, A Practical Guide to Splines, chapters IV and XVII).</summary>
public sealed class CubicSurface
{
    private readonly SurfaceMap grid;
    private readonly ImmutableArray<CubicSpline> alongRows;
    private readonly SplineEnds ends;

    /// <summary>Prepares the interpolation.</summary>
    /// <param name="grid">Heights at the nodes; at least three columns and rows, four for <see cref="SplineEnds.NotAKnot"/>.</param>
    /// <param name="ends">What happens at the edges.</param>
    /// <exception cref="ArgumentException">There are too few columns or rows.</exception>
    public CubicSurface(SurfaceMap grid, SplineEnds ends)
    {
        ArgumentNullException.ThrowIfNull(grid);
        int needed = ends == SplineEnds.NotAKnot ? 4 : 3;
        if (grid.Xs.Length < needed || grid.Ys.Length < needed)
        {
            throw new ArgumentException($"A bicubic surface needs at least {needed} columns and rows.", nameof(grid));
        }

        (this.grid, this.ends) = (grid, ends);
        alongRows =
        [
            .. Enumerable.Range(0, grid.Ys.Length).Select(row =>
                new CubicSpline(grid.Xs, grid.Heights.AsSpan(row * grid.Xs.Length, grid.Xs.Length), ends)),
        ];
    }

    /// <summary>Height at a place, mm; outside the grid the outermost cubics go on.</summary>
    public double HeightAt(double x, double y)
    {
        double[] line = new double[alongRows.Length];
        for (int row = 0; row < line.Length; row++)
        {
            line[row] = alongRows[row].At(x);
        }

        return new CubicSpline(grid.Ys, line, ends).At(y);
    }

    /// <summary>Heights on a lattice; much quicker than place by place.</summary>
    /// <param name="xs">X of the columns, mm, rising.</param>
    /// <param name="ys">Y of the rows, mm, rising.</param>
    public SurfaceMap OnLattice(ImmutableArray<double> xs, ImmutableArray<double> ys)
    {
        double[] heights = new double[xs.Length * ys.Length], line = new double[alongRows.Length];
        for (int column = 0; column < xs.Length; column++)
        {
            for (int row = 0; row < line.Length; row++)
            {
                line[row] = alongRows[row].At(xs[column]);
            }

            var along = new CubicSpline(grid.Ys, line, ends);
            for (int row = 0; row < ys.Length; row++)
            {
                heights[(row * xs.Length) + column] = along.At(ys[row]);
            }
        }

        return new SurfaceMap(xs, ys, [.. heights]);
    }
}
