using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Meshes;

/// <summary>
/// Node heights that bring a bilinear mesh as close to a surface as its size allows, over all places of a map:
/// not the surface's heights at the nodes, which leave up to twice the error.
/// </summary>
public static class MeshFit
{
    /// <summary>
    /// The mesh with the least root mean square error on the map. Bilinear weights are products of a function of x and one of y, so
    /// the fit is one small least-squares problem along each axis: M = By+ F (Bx+) transposed, + the pseudo-inverse.
    /// </summary>
    /// <param name="grid">The controller's nodes.</param>
    /// <param name="surface">The surface over the printable area; at least one place in every column and row of cells.</param>
    /// <param name="edge">What the controller does outside its mesh.</param>
    public static CorrectionMesh LeastSquares(MeshGrid grid, SurfaceMap surface, EdgeRule edge = EdgeRule.Clamped)
    {
        ArgumentNullException.ThrowIfNull(grid);
        ArgumentNullException.ThrowIfNull(surface);
        int columns = surface.Xs.Length, rows = surface.Ys.Length;
        var alongX = new HatFit(grid.Columns, [.. surface.Xs.Select(x => grid.Across(x, edge))]);
        var alongY = new HatFit(grid.Rows, [.. surface.Ys.Select(y => grid.Along(y, edge))]);
        double[][] byRow = [.. Enumerable.Range(0, rows).Select(row => alongX.Solve(surface.Heights.AsSpan(row * columns, columns)))];
        double[] heights = new double[grid.Count];
        double[] line = new double[rows];
        for (int column = 0; column < grid.Columns; column++)
        {
            for (int row = 0; row < rows; row++)
            {
                line[row] = byRow[row][column];
            }

            double[] nodes = alongY.Solve(line);
            for (int row = 0; row < grid.Rows; row++)
            {
                heights[(row * grid.Columns) + column] = nodes[row];
            }
        }

        return new CorrectionMesh(grid, [.. heights]);
    }

    /// <summary>
    /// The mesh with the least largest error on the map, and the bound that proves how near to the least it is. Slower than
    /// <see cref="LeastSquares"/>; its root mean square error is larger.
    /// </summary>
    /// <param name="grid">The controller's nodes.</param>
    /// <param name="surface">The surface over the printable area.</param>
    /// <param name="edge">What the controller does outside its mesh.</param>
    public static MinimaxMesh Minimax(MeshGrid grid, SurfaceMap surface, EdgeRule edge = EdgeRule.Clamped)
    {
        CorrectionMesh start = LeastSquares(grid, surface, edge);
        int columns = surface.Xs.Length;
        double level = start.Heights.Average();
        Hat[] hats = [.. surface.Heights.Select((_, k) => new Hat(grid, surface.Xs[k % columns], surface.Ys[k / columns], edge))];
        var fit = new MinimaxFit(grid.Count, hats, [.. surface.Heights.Select(z => z - level)]);
        (double[] heights, double bound) = fit.Solve([.. start.Heights.Select(z => z - level)]);
        return new MinimaxMesh(new CorrectionMesh(grid, [.. heights.Select(z => z + level)]), bound);
    }

    /// <summary>
    /// The smallest mesh whose fitted error stays within a tolerance, sizes tried in the order of their number of nodes; refused when none up to the most does.
    /// </summary>
    /// <param name="surface">The surface over the printable area.</param>
    /// <param name="area">Where the outermost nodes lie.</param>
    /// <param name="rmsToleranceMm">Root mean square error allowed, mm.</param>
    /// <param name="worstToleranceMm">Largest error allowed, mm; infinite when only the root mean square counts.</param>
    /// <param name="mostColumns">Most columns, 2 to 64.</param>
    /// <param name="mostRows">Most rows, 2 to 64.</param>
    /// <param name="edge">What the controller does outside its mesh.</param>
    public static Answer<CorrectionMesh> Smallest(
        SurfaceMap surface, Box area, double rmsToleranceMm, double worstToleranceMm, int mostColumns, int mostRows, EdgeRule edge = EdgeRule.Clamped)
    {
        ArgumentNullException.ThrowIfNull(surface);
        if (!area.HasArea || !(rmsToleranceMm > 0) || !(worstToleranceMm > 0) || mostColumns is < 2 or > 64 || mostRows is < 2 or > 64)
        {
            return Reason.OutOfRange("Tolerances and the mesh's extents must be greater than zero, columns and rows between 2 and 64.");
        }

        IEnumerable<(int Columns, int Rows)> sizes = Enumerable.Range(2, mostColumns - 1)
            .SelectMany(columns => Enumerable.Range(2, mostRows - 1).Select(rows => (columns, rows)))
            .OrderBy(size => size.columns * size.rows).ThenBy(size => Math.Abs(size.columns - size.rows));
        foreach ((int columns, int rows) in sizes)
        {
            CorrectionMesh mesh = LeastSquares(new MeshGrid(area.MinX, area.MinY, area.MaxX, area.MaxY, columns, rows), surface, edge);
            MeshError error = MeshError.Of(mesh, surface, edge);
            if (error.Rms <= rmsToleranceMm && error.Worst <= worstToleranceMm)
            {
                return mesh;
            }
        }

        return Reason.Undetermined("No mesh of a size that the controller takes stays within the tolerance.");
    }
}

/// <summary>A mesh with the least largest error.</summary>
/// <param name="Mesh">The mesh.</param>
/// <param name="LowerBoundMm">No mesh of this size brings the largest error on the map below this, mm.</param>
public sealed record MinimaxMesh(CorrectionMesh Mesh, double LowerBoundMm);
