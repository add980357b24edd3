namespace ProbeRunner.Machine.Geometry;

/// <summary>An upright rectangle on the bed plate, mm, edges included.</summary>
public readonly record struct BedRectangle(double MinX, double MinY, double MaxX, double MaxY)
{
    /// <summary>Whether the place lies inside or on an edge.</summary>
    public bool Contains(BedPoint place) => place.X >= MinX && place.X <= MaxX && place.Y >= MinY && place.Y <= MaxY;

    /// <summary>Whether a straight line between two places meets the rectangle (Liang and Barsky's clipping).</summary>
    public bool IsCrossedBy(BedPoint from, BedPoint to)
    {
        double enter = 0;
        double leave = 1;
        ReadOnlySpan<(double Run, double Room)> sides =
        [
            (from.X - to.X, from.X - MinX), (to.X - from.X, MaxX - from.X), (from.Y - to.Y, from.Y - MinY), (to.Y - from.Y, MaxY - from.Y),
        ];
        foreach ((double run, double room) in sides)
        {
            if (run == 0 && room < 0)
            {
                return false;
            }

            enter = run < 0 ? Math.Max(enter, room / run) : enter;
            leave = run > 0 ? Math.Min(leave, room / run) : leave;
        }

        return enter <= leave;
    }

    /// <summary>Whether the rectangle has no area.</summary>
    public bool IsEmpty => !(MaxX > MinX && MaxY > MinY);

    /// <summary>The part shared with another rectangle; empty when they do not overlap.</summary>
    public BedRectangle Intersect(BedRectangle other) =>
        new(Math.Max(MinX, other.MinX), Math.Max(MinY, other.MinY), Math.Min(MaxX, other.MaxX), Math.Min(MaxY, other.MaxY));

    /// <summary>The rectangle moved by an offset, mm.</summary>
    public BedRectangle Shift(double byX, double byY) => new(MinX + byX, MinY + byY, MaxX + byX, MaxY + byY);

    /// <summary>The rectangle with every edge moved inwards by a margin, mm.</summary>
    public BedRectangle Inset(double marginMm) => new(MinX + marginMm, MinY + marginMm, MaxX - marginMm, MaxY - marginMm);
}
