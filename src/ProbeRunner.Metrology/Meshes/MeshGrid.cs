namespace ProbeRunner.Metrology.Meshes;

/// <summary>Where the nodes of a correction mesh lie: evenly spaced columns and rows, the outermost on the rectangle's edges.</summary>
public sealed record MeshGrid
{
    /// <summary>A grid of at least two columns and two rows.</summary>
    /// <param name="minX">X of the first column, mm.</param>
    /// <param name="minY">Y of the first (front) row, mm.</param>
    /// <param name="maxX">X of the last column, mm; greater than <paramref name="minX"/>.</param>
    /// <param name="maxY">Y of the last row, mm; greater than <paramref name="minY"/>.</param>
    /// <param name="columns">Nodes along X, 2 or more.</param>
    /// <param name="rows">Nodes along Y, 2 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">An edge is not finite, an extent is not positive, or there are fewer than two columns or rows.</exception>
    public MeshGrid(double minX, double minY, double maxX, double maxY, int columns, int rows)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(columns, 2);
        ArgumentOutOfRangeException.ThrowIfLessThan(rows, 2);
        if (!(double.IsFinite(maxX - minX) && maxX > minX))
        {
            throw new ArgumentOutOfRangeException(nameof(maxX), "A mesh needs finite edges and a width greater than zero.");
        }

        if (!(double.IsFinite(maxY - minY) && maxY > minY))
        {
            throw new ArgumentOutOfRangeException(nameof(maxY), "A mesh needs finite edges and a depth greater than zero.");
        }

        (MinX, MinY, MaxX, MaxY, Columns, Rows) = (minX, minY, maxX, maxY, columns, rows);
    }

    /// <summary>X of the first column, mm.</summary>
    public double MinX { get; }

    /// <summary>Y of the first (front) row, mm.</summary>
    public double MinY { get; }

    /// <summary>X of the last column, mm.</summary>
    public double MaxX { get; }

    /// <summary>Y of the last row, mm.</summary>
    public double MaxY { get; }

    /// <summary>Nodes along X.</summary>
    public int Columns { get; }

    /// <summary>Nodes along Y.</summary>
    public int Rows { get; }

    /// <summary>Number of nodes.</summary>
    public int Count => Columns * Rows;

    /// <summary>X of a column, mm, counted from 0 at the left.</summary>
    public double NodeX(int column) => column == Columns - 1 ? MaxX : MinX + ((MaxX - MinX) * column / (Columns - 1));

    /// <summary>Y of a row, mm, counted from 0 at the front.</summary>
    public double NodeY(int row) => row == Rows - 1 ? MaxY : MinY + ((MaxY - MinY) * row / (Rows - 1));

    /// <summary>The cell's first column for an x, and how far into the cell x lies: 0 to 1, beyond when extended outside the mesh.</summary>
    internal (int Column, double Share) Across(double x, EdgeRule edge) => Locate((x - MinX) / (MaxX - MinX) * (Columns - 1), Columns, edge);

    /// <summary>The cell's first row for a y, and how far into the cell y lies.</summary>
    internal (int Row, double Share) Along(double y, EdgeRule edge) => Locate((y - MinY) / (MaxY - MinY) * (Rows - 1), Rows, edge);

    private static (int First, double Share) Locate(double position, int nodes, EdgeRule edge)
    {
        double inside = edge == EdgeRule.Clamped ? Math.Clamp(position, 0, nodes - 1) : position;
        int first = (int)Math.Clamp(Math.Floor(inside), 0, nodes - 2);
        return (first, inside - first);
    }
}
