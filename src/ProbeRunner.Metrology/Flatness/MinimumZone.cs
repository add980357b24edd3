using System.Collections.Immutable;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Flatness;

/// <summary>
/// The two parallel planes, as close together as can be, that hold all readings between them (ISO 1101 flatness;
/// ISO 12781 minimum-zone reference planes), with the contacts that prove that no closer pair exists.
/// </summary>
/// <param name="MidPlane">The plane halfway between the two.</param>
/// <param name="Width">Distance of the two planes measured vertically, mm.</param>
/// <param name="Upper">Indices of the readings that touch the upper plane and belong to the proof.</param>
/// <param name="Lower">Indices of the readings that touch the lower plane and belong to the proof.</param>
/// <param name="Excess">By how much any reading lies outside the zone, mm; 0 up to rounding.</param>
public sealed record MinimumZone(Plane MidPlane, double Width, ImmutableArray<int> Upper, ImmutableArray<int> Lower, double Excess)
{
    /// <summary>Distance of the two planes along their normal, mm.</summary>
    public double NormalWidth => Width * MidPlane.NormalPerVertical;

    /// <summary>
    /// How the contacts prove the answer: a point of the one side within the triangle of three of the other,
    /// two lines that cross, or a point of one side on the line between two of the other.
    /// </summary>
    public ContactPattern Contacts => (Upper.Length, Lower.Length) switch
    {
        (3, 1) or (1, 3) => ContactPattern.PointInTriangle,
        (2, 2) => ContactPattern.CrossedLines,
        (2, 1) or (1, 2) => ContactPattern.PointOnLine,
        (1, 1) => ContactPattern.SamePlace,
        _ => ContactPattern.Coplanar,
    };

    /// <summary>
    /// Finds the zone by exchanging one of four points at a time (Stiefel's exchange for Chebyshev approximation, which is the dual simplex
    /// method for the linear programme of Carr and Ferreira, Precision Engineering 17, 1995). Refused for fewer than three readings,
    /// numbers that are not finite and places on one line.
    /// </summary>
    public static Answer<MinimumZone> Fit(IReadOnlyList<SurfacePoint> points)
    {
        if (Places.Check(points, 3, "A minimum zone") is { } why)
        {
            return why;
        }

        return FourPointExchange.Solve(points as SurfacePoint[] ?? [.. points]) is { } zone
            ? zone
            : new Reason(RefusalKind.NotConverged, "The exchange of contact points did not settle.");
    }
}

/// <summary>How the contacts of a minimum zone prove that it is the narrowest.</summary>
public enum ContactPattern
{
    /// <summary>All readings lie in one plane; the width is zero.</summary>
    Coplanar,

    /// <summary>Three contacts on one side, one on the other and within their triangle.</summary>
    PointInTriangle,

    /// <summary>Two contacts on each side, on lines that cross.</summary>
    CrossedLines,

    /// <summary>One contact on the line between two of the other side.</summary>
    PointOnLine,

    /// <summary>Two readings taken at one place differ by the width.</summary>
    SamePlace,
}
