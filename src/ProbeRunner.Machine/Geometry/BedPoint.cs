namespace ProbeRunner.Machine.Geometry;

/// <summary>A place on the bed plate, mm: origin at its front-left corner, X to the right, Y to the back.</summary>
public readonly record struct BedPoint(double X, double Y)
{
    /// <summary>Distance in the bed plane, mm.</summary>
    public double DistanceTo(BedPoint other) => Math.Sqrt(((X - other.X) * (X - other.X)) + ((Y - other.Y) * (Y - other.Y)));
}
