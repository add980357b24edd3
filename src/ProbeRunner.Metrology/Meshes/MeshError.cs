namespace ProbeRunner.Metrology.Meshes;

/// <summary>How far a mesh is off a surface.</summary>
/// <param name="Rms">Root mean square of mesh minus surface, mm.</param>
/// <param name="Worst">Largest absolute difference, mm.</param>
/// <param name="WorstX">Where that is, mm.</param>
/// <param name="WorstY">Where that is, mm.</param>
public readonly record struct MeshError(double Rms, double Worst, double WorstX, double WorstY)
{
    /// <summary>Error of a bilinear mesh on every place of a map.</summary>
    public static MeshError Of(CorrectionMesh mesh, SurfaceMap reference, EdgeRule edge)
    {
        ArgumentNullException.ThrowIfNull(mesh);
        return Of((x, y) => mesh.HeightAt(x, y, edge), reference);
    }

    /// <summary>Error of any interpolation on every place of a map.</summary>
    public static MeshError Of(Func<double, double, double> interpolated, SurfaceMap reference)
    {
        ArgumentNullException.ThrowIfNull(interpolated);
        ArgumentNullException.ThrowIfNull(reference);
        double squares = 0, worst = -1, worstX = 0, worstY = 0;
        for (int row = 0; row < reference.Ys.Length; row++)
        {
            for (int column = 0; column < reference.Xs.Length; column++)
            {
                double error = interpolated(reference.Xs[column], reference.Ys[row]) - reference[column, row];
                squares += error * error;
                if (Math.Abs(error) > worst)
                {
                    (worst, worstX, worstY) = (Math.Abs(error), reference.Xs[column], reference.Ys[row]);
                }
            }
        }

        return new MeshError(Math.Sqrt(squares / reference.Heights.Length), worst, worstX, worstY);
    }
}
