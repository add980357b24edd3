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
}
