using System.Collections.Immutable;

namespace ProbeRunner.Metrology.Meshes;

/// <summary>Heights at the nodes of a mesh, interpolated as controllers do: bilinearly within each cell.</summary>
public sealed record CorrectionMesh
{
    /// <summary>A mesh.</summary>
    /// <param name="grid">Where the nodes lie.</param>
    /// <param name="heights">Heights, mm, row by row from the front, each row from the left.</param>
    /// <exception cref="ArgumentException">There is not one finite height for each node.</exception>
    public CorrectionMesh(MeshGrid grid, ImmutableArray<double> heights)
    {
        ArgumentNullException.ThrowIfNull(grid);
        if (heights.IsDefault || heights.Length != grid.Count || !heights.All(double.IsFinite))
        {
            throw new ArgumentException("A mesh needs one finite height for each node.", nameof(heights));
        }

        (Grid, Heights) = (grid, heights);
    }

    /// <summary>Where the nodes lie.</summary>
    public MeshGrid Grid { get; }

    /// <summary>Heights, mm, row by row from the front, each row from the left.</summary>
    public ImmutableArray<double> Heights { get; }

    /// <summary>Height of a node, mm.</summary>
    public double this[int column, int row] => Heights[(row * Grid.Columns) + column];

    /// <summary>Interpolated height at a place, mm.</summary>
    public double HeightAt(double x, double y, EdgeRule edge)
    {
        (int column, double across) = Grid.Across(x, edge);
        (int row, double along) = Grid.Along(y, edge);
        double front = this[column, row] + (across * (this[column + 1, row] - this[column, row]));
        double back = this[column, row + 1] + (across * (this[column + 1, row + 1] - this[column, row + 1]));
        return front + (along * (back - front));
    }

    /// <summary>The mesh of a surface's heights at the nodes themselves.</summary>
    public static CorrectionMesh Sampled(MeshGrid grid, Func<double, double, double> surface)
    {
        ArgumentNullException.ThrowIfNull(grid);
        ArgumentNullException.ThrowIfNull(surface);
        return new CorrectionMesh(
            grid,
            [.. Enumerable.Range(0, grid.Count).Select(k => surface(grid.NodeX(k % grid.Columns), grid.NodeY(k / grid.Columns)))]);
    }
}
