using ProbeRunner.Machine.Profiles;
using ProbeRunner.SimulatedPrinter.Physics;

namespace ProbeRunner.Campaigns;

/// <summary>The controller's mesh as it corrects: bilinear between nodes, level beyond them, as the wire's contract says.</summary>
internal static class TrueMesh
{
    /// <summary>What it adds at a place, mm.</summary>
    public static double At(Truth truth, MeshProfile mesh, double x, double y)
    {
        (int column, double u) = Cell(x, mesh.Area.MinX, mesh.Area.MaxX, mesh.Columns);
        (int row, double v) = Cell(y, mesh.Area.MinY, mesh.Area.MaxY, mesh.Rows);
        double Node(int i, int j) => truth.Mesh[(j * mesh.Columns) + i];
        return ((1 - v) * (((1 - u) * Node(column, row)) + (u * Node(column + 1, row)))) + (v * (((1 - u) * Node(column, row + 1)) + (u * Node(column + 1, row + 1))));
    }

    private static (int Index, double Part) Cell(double at, double least, double most, int count)
    {
        double place = Math.Clamp((at - least) / (most - least) * (count - 1), 0, count - 1);
        int index = Math.Min((int)place, count - 2);
        return (index, place - index);
    }
}
