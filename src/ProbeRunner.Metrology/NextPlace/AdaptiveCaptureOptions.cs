using System.Collections.Immutable;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.NextPlace;

/// <summary>What an adaptive capture is to reach and where it may touch.</summary>
public sealed record AdaptiveCaptureOptions
{
    /// <summary>Where the map must be good: the printable area.</summary>
    public required Box Printable { get; init; }

    /// <summary>Where the probe can touch; it may leave strips of the printable area out.</summary>
    public required Box Reachable { get; init; }

    /// <summary>Where the probe must not touch (clips), the probe's own extent included.</summary>
    public ImmutableArray<Box> Forbidden { get; init; } = [];

    /// <summary>Root mean square error of the map that is wanted, mm, 0.005 to 0.2.</summary>
    public double TargetRmsMm { get; init; } = 0.02;

    /// <summary>Touches after which the capture gives up, 9 to 400.</summary>
    public int MostTouches { get; init; } = 100;

    /// <summary>Places chosen at a time once the first nine are touched, 1 to 16: more save travel and cost a few touches.</summary>
    public int BatchSize { get; init; } = 1;

    /// <summary>What is known of the bed and the probe.</summary>
    public SurfaceModelOptions Model { get; init; } = new();

    /// <summary>True where a touch is allowed.</summary>
    public bool Allows(Place place) =>
        place.X >= Reachable.MinX && place.X <= Reachable.MaxX && place.Y >= Reachable.MinY && place.Y <= Reachable.MaxY
        && !Forbidden.Any(box => place.X >= box.MinX && place.X <= box.MaxX && place.Y >= box.MinY && place.Y <= box.MaxY);

    internal Reason? Check()
    {
        if (!Printable.HasArea || !Reachable.HasArea)
        {
            return Reason.OutOfRange("The printable and the reachable area must have a width and a depth greater than zero.");
        }

        if (TargetRmsMm is not (>= 0.005 and <= 0.2))
        {
            return Reason.OutOfRange("The target must lie between 0.005 and 0.2 mm.");
        }

        return MostTouches is < 9 or > 400 || BatchSize is < 1 or > 16
            ? Reason.OutOfRange("A capture takes 9 to 400 touches, in batches of 1 to 16.")
            : null;
    }
}
