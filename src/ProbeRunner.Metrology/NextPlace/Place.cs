namespace ProbeRunner.Metrology.NextPlace;

/// <summary>A bed place, mm.</summary>
/// <param name="X">To the right.</param>
/// <param name="Y">To the back.</param>
public readonly record struct Place(double X, double Y)
{
    /// <summary>Distance to another place, mm.</summary>
    public double DistanceTo(Place other) => Math.Sqrt(((X - other.X) * (X - other.X)) + ((Y - other.Y) * (Y - other.Y)));
}
