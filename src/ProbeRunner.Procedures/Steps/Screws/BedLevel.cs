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
/// <param name="UncertaintyMm">Standard uncertainty of the least well known of <paramref name="AtScrews"/>, mm.</param>
internal sealed record BedLevel(ImmutableArray<double> Heights, ImmutableArray<double> AtScrews, double BendMm, double TwistMm, Plane Plane, double UncertaintyMm)
{
    private const double OneSided95 = 1.645; // of the normal law

    /// <summary>The largest distance from the mean at a screw, mm.</summary>
    public double WorstMm => AtScrews.Max(Math.Abs);

    /// <summary>Whether the bed is within a tolerance of level at every screw, at 95 %.</summary>
    public bool IsLevel(double toleranceMm) => WorstMm + (OneSided95 * UncertaintyMm) <= toleranceMm;

    /// <summary>Whether the touches can't say, at 95 %, on which side of a tolerance the bed is.</summary>
    public bool IsDoubtful(double toleranceMm) => Math.Abs(WorstMm - toleranceMm) < OneSided95 * UncertaintyMm;

    /// <summary>Judges touches near the screws and in the middle.</summary>
    /// <param name="places">Where the touches were.</param>
    /// <param name="screws">The screws.</param>
    /// <param name="heights">Mean height at each place near a screw, mm.</param>
    /// <param name="middle">Mean height in the middle, mm.</param>
    /// <param name="sigmaMm">Standard deviation of such a mean, mm.</param>
    public static BedLevel Of(ScrewPlaces places, ImmutableArray<AdjustingScrew> screws, IReadOnlyList<double> heights, double middle, double sigmaMm)
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
            plane,
            ScrewLevelling.Uncertainties(screws, touched, sigmaMm).Max());
    }
}
