namespace ProbeRunner.SimulatedPrinter.Physics;

/// <summary>Three numbers, one an axis, mm.</summary>
internal readonly record struct Axes3(double X, double Y, double Z)
{
    public static Axes3 operator +(Axes3 left, Axes3 right) => new(left.X + right.X, left.Y + right.Y, left.Z + right.Z);

    public static Axes3 operator -(Axes3 left, Axes3 right) => new(left.X - right.X, left.Y - right.Y, left.Z - right.Z);

    public static Axes3 Between(Axes3 from, Axes3 to, double share) => new(
        from.X + ((to.X - from.X) * share), from.Y + ((to.Y - from.Y) * share), from.Z + ((to.Z - from.Z) * share));
}
