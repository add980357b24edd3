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
        double minX = double.PositiveInfinity, minY = double.PositiveInfinity, maxX = double.NegativeInfinity, maxY = double.NegativeInfinity;
        foreach (SurfacePoint point in points as SurfacePoint[] ?? [.. points])
        {
            (minX, minY, maxX, maxY) = (Math.Min(minX, point.X), Math.Min(minY, point.Y), Math.Max(maxX, point.X), Math.Max(maxY, point.Y));
        }

        return new Box(minX, minY, maxX, maxY);
    }
}
