namespace ProbeRunner.Metrology.Planes;

/// <summary>A rectangle in bed coordinates, mm; it carries the coordinates u and v that run from -1 to 1 across it.</summary>
/// <param name="MinX">Left edge.</param>
/// <param name="MinY">Front edge.</param>
/// <param name="MaxX">Right edge.</param>
/// <param name="MaxY">Back edge.</param>
public readonly record struct Box(double MinX, double MinY, double MaxX, double MaxY)
{
    /// <summary>Extent along X, mm.</summary>
    public double Width => MaxX - MinX;

    /// <summary>Extent along Y, mm.</summary>
    public double Depth => MaxY - MinY;

    /// <summary>True when both extents are finite and greater than zero.</summary>
    public bool HasArea => double.IsFinite(Width) && double.IsFinite(Depth) && Width > 0 && Depth > 0;

    /// <summary>-1 at the left edge, 1 at the right one; 0 everywhere when the box has no width.</summary>
    public double U(double x) => Width > 0 ? ((2 * (x - MinX)) / Width) - 1 : 0;

    /// <summary>-1 at the front edge, 1 at the back one; 0 everywhere when the box has no depth.</summary>
    public double V(double y) => Depth > 0 ? ((2 * (y - MinY)) / Depth) - 1 : 0;

    /// <summary>The smallest box around the places of <paramref name="points"/>, of which there must be at least one.</summary>
    public static Box Around(IReadOnlyList<SurfacePoint> points)
    {
        ArgumentNullException.ThrowIfNull(points);
        ArgumentOutOfRangeException.ThrowIfZero(points.Count);
        var box = new Box(points[0].X, points[0].Y, points[0].X, points[0].Y);
        foreach (SurfacePoint point in points)
        {
            box = new Box(
                Math.Min(box.MinX, point.X), Math.Min(box.MinY, point.Y), Math.Max(box.MaxX, point.X), Math.Max(box.MaxY, point.Y));
        }

        return box;
    }
}
