using System.Collections.Immutable;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Screws;

namespace ProbeRunner.Procedures.Steps.Screws;

/// <summary>How the bed stood at one measuring.</summary>
/// <param name="Heights">Mean of the touches near each screw, less their common mean, mm.</param>
/// <param name="AtScrews">The plane through them, at the screws themselves, less its mean there, mm: what turning can mend.</param>
/// <param name="BendMm">The middle above the plane through the screws' places, mm.</param>
/// <param name="TwistMm">How far four screws stand alternately above and below a plane, mm; 0 for three.</param>
/// <param name="Plane">The fitted plane.</param>
internal sealed record BedLevel(ImmutableArray<double> Heights, ImmutableArray<double> AtScrews, double BendMm, double TwistMm, Plane Plane)
{
    /// <summary>The largest distance from the mean at a screw, mm.</summary>
    public double WorstMm => AtScrews.Max(Math.Abs);

    /// <summary>Judges touches near the screws and in the middle.</summary>
    public static BedLevel Of(ScrewPlaces places, ImmutableArray<AdjustingScrew> screws, IReadOnlyList<double> heights, double middle)
    {
        SurfacePoint[] points = [.. places.AtScrews.Select((place, index) => new SurfacePoint(place.X, place.Y, heights[index]))];
        Plane plane = PlaneFit.LeastSquares(points).Value.Plane;
        double[] atScrews = [.. screws.Select(screw => plane.HeightAt(screw.X, screw.Y))];
        double level = atScrews.Average(), mean = heights.Average();
        AdjustingScrew[] touched = [.. screws.Zip(places.AtScrews, (screw, place) => screw with { X = place.X, Y = place.Y })];
        return new BedLevel(
            [.. heights.Select(height => height - mean)],
            [.. atScrews.Select(height => height - level)],
            middle - plane.HeightAt(places.Middle.X, places.Middle.Y),
            ScrewLevelling.Twist(touched, heights).Value,
            plane);
    }
}
