namespace ProbeRunner.Metrology.Meshes;

/// <summary>How a place depends on the nodes: four of them, with weights that add up to one.</summary>
internal readonly struct Hat
{
    private readonly int node;
    private readonly int columns;
    private readonly double across;
    private readonly double along;

    /// <summary>The dependence of a place on a grid's nodes.</summary>
    public Hat(MeshGrid grid, double x, double y, EdgeRule edge)
    {
        (int column, across) = grid.Across(x, edge);
        (int row, along) = grid.Along(y, edge);
        columns = grid.Columns;
        node = (row * columns) + column;
    }

    /// <summary>Interpolated height.</summary>
    public double At(double[] heights)
    {
        double front = heights[node] + (across * (heights[node + 1] - heights[node]));
        double back = heights[node + columns] + (across * (heights[node + columns + 1] - heights[node + columns]));
        return front + (along * (back - front));
    }

    /// <summary>Adds the weights times a factor to the nodes' sums.</summary>
    public void AddTo(double[] sums, double factor)
    {
        sums[node] += factor * (1 - across) * (1 - along);
        sums[node + 1] += factor * across * (1 - along);
        sums[node + columns] += factor * (1 - across) * along;
        sums[node + columns + 1] += factor * across * along;
    }

    /// <summary>Adds the products of the weights times a factor to a lower triangle.</summary>
    public void AddProducts(double[][] lower, double factor)
    {
        ReadOnlySpan<int> nodes = [node, node + 1, node + columns, node + columns + 1];
        ReadOnlySpan<double> weights = [(1 - across) * (1 - along), across * (1 - along), (1 - across) * along, across * along];
        for (int i = 0; i < 4; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                lower[nodes[i]][nodes[j]] += factor * weights[i] * weights[j];
            }
        }
    }
}
