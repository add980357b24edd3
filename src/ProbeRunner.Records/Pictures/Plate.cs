using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Records.Pictures;

/// <summary>Places bed coordinates on paper: one unit a millimetre, X to the right, the front edge below.</summary>
/// <param name="Area">The plate, bed coordinates.</param>
internal readonly record struct Plate(BedRectangle Area)
{
    /// <summary>Room on the left for numbers.</summary>
    public const double Left = 26;

    /// <summary>Room on the right.</summary>
    public const double Right = 8;

    /// <summary>Room above.</summary>
    public const double Top = 12;

    /// <summary>Room below for numbers and the colour scale.</summary>
    public const double Bottom = 46;

    /// <summary>Along X, mm.</summary>
    public double Width => Area.MaxX - Area.MinX;

    /// <summary>Along Y, mm.</summary>
    public double Depth => Area.MaxY - Area.MinY;

    /// <summary>A bed X on paper.</summary>
    public double X(double x) => Left + x - Area.MinX;

    /// <summary>A bed Y on paper: paper counts downwards.</summary>
    public double Y(double y) => Top + Area.MaxY - y;
}
