namespace ProbeRunner.Metrology.Planes;

/// <summary>The plane z = A x + B y + C, lengths in mm.</summary>
/// <param name="A">Slope along X, mm per mm.</param>
/// <param name="B">Slope along Y, mm per mm.</param>
/// <param name="C">Height at the origin, mm.</param>
public readonly record struct Plane(double A, double B, double C)
{
    /// <summary>Height at a place, mm.</summary>
    public double HeightAt(double x, double y) => (A * x) + (B * y) + C;

    /// <summary>Steepest slope, mm per mm; the tangent of the angle to the horizontal.</summary>
    public double Slope => Math.Sqrt((A * A) + (B * B));

    /// <summary>Direction in which the plane rises most, degrees from the X axis towards Y, -180 to 180; 0 for a level plane.</summary>
    public double UphillAzimuthDegrees => Math.Atan2(B, A) * 180 / Math.PI;

    /// <summary>Ratio of a distance measured along the plane's normal to the same distance measured vertically, 0 to 1.</summary>
    public double NormalPerVertical => 1 / Math.Sqrt(1 + (A * A) + (B * B));
}
