using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>The controller's bilinear interpolation between its nodes; flat beyond the outermost ones.</summary>
internal static class CorrectionMesh
{
    /// <summary>The height to add at a place in bed coordinates, mm.</summary>
    public static double At(MeshScenario grid, double[] heights, double x, double y)
    {
        var (column, shareX) = Cell(x, grid.MinX, grid.MaxX, grid.Columns);
        var (row, shareY) = Cell(y, grid.MinY, grid.MaxY, grid.Rows);
        var front = (row * grid.Columns) + column;
        var back = front + grid.Columns;
        return (((heights[front] * (1 - shareX)) + (heights[front + 1] * shareX)) * (1 - shareY))
            + (((heights[back] * (1 - shareX)) + (heights[back + 1] * shareX)) * shareY);
    }

    /// <summary>A node's place in bed coordinates.</summary>
    public static (double X, double Y) Place(MeshScenario grid, int column, int row) => (
        grid.MinX + ((grid.MaxX - grid.MinX) * column / (grid.Columns - 1)),
        grid.MinY + ((grid.MaxY - grid.MinY) * row / (grid.Rows - 1)));

    private static (int Index, double Share) Cell(double at, double from, double to, int nodes)
    {
        var position = Math.Clamp((at - from) / (to - from) * (nodes - 1), 0, nodes - 1);
        var index = Math.Min((int)position, nodes - 2);
        return (index, position - index);
    }
}
