using System.Collections.Immutable;

namespace ProbeRunner.Metrology.Meshes;

/// <summary>What a bilinear mesh of a size would leave of the readings of a denser grid.</summary>
/// <param name="Columns">Nodes along X.</param>
/// <param name="Rows">Nodes along Y.</param>
/// <param name="Rms">Root mean square of mesh less reading over all readings, mm.</param>
/// <param name="Worst">Largest absolute difference, mm.</param>
public readonly record struct MeshAdequacy(int Columns, int Rows, double Rms, double Worst)
{
    /// <summary>
    /// The meshes that keep every second, third, ... column and row of a grid, the outermost included, with the readings at their nodes; densest first.
    /// A step is left out when it does not end on the last column and row.
    /// </summary>
    public static ImmutableArray<MeshAdequacy> OfSparserMeshes(SurfaceMap grid)
    {
        ArgumentNullException.ThrowIfNull(grid);
        int cellsX = grid.Xs.Length - 1, cellsY = grid.Ys.Length - 1;
        return
        [
            .. Enumerable.Range(2, Math.Max(0, Math.Min(cellsX, cellsY) - 1))
                .Where(step => cellsX % step == 0 && cellsY % step == 0)
                .Select(step => KeepingEvery(grid, step)),
        ];
    }

    private static MeshAdequacy KeepingEvery(SurfaceMap grid, int step)
    {
        double squares = 0, worst = 0;
        for (int row = 0; row < grid.Ys.Length; row++)
        {
            for (int column = 0; column < grid.Xs.Length; column++)
            {
                double error = Bilinear(grid, column, row, step) - grid[column, row];
                squares += error * error;
                worst = Math.Max(worst, Math.Abs(error));
            }
        }

        return new MeshAdequacy(
            ((grid.Xs.Length - 1) / step) + 1, ((grid.Ys.Length - 1) / step) + 1, Math.Sqrt(squares / grid.Heights.Length), worst);
    }

    private static double Bilinear(SurfaceMap grid, int column, int row, int step)
    {
        int left = Math.Min(column / step * step, grid.Xs.Length - 1 - step), front = Math.Min(row / step * step, grid.Ys.Length - 1 - step);
        double across = (grid.Xs[column] - grid.Xs[left]) / (grid.Xs[left + step] - grid.Xs[left]);
        double along = (grid.Ys[row] - grid.Ys[front]) / (grid.Ys[front + step] - grid.Ys[front]);
        double nearer = grid[left, front] + (across * (grid[left + step, front] - grid[left, front]));
        double farther = grid[left, front + step] + (across * (grid[left + step, front + step] - grid[left, front + step]));
        return nearer + (along * (farther - nearer));
    }
}
