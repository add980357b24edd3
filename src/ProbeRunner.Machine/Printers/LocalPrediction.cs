using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;

namespace ProbeRunner.Machine.Printers;

/// <summary>
/// What earlier touches say about a place before it is touched. Only used to decide whether a reading is surprising enough to be
/// confirmed; it never changes a reading. Common practice, no source.
/// </summary>
internal static class LocalPrediction
{
    private const int MostNeighbours = 8;
    private const double Sigmas = 6;

    /// <summary>The least deviation that is a surprise beside other places, mm.</summary>
    private const double LeastSurpriseMm = 0.10;

    /// <summary>How much more may be bent away per mm of distance to the nearest earlier touch.</summary>
    private const double SurprisePerMm = 0.002;

    /// <summary>Whether a reading is far from what its neighbourhood lets expect; true when there is no neighbourhood.</summary>
    /// <param name="earlier">Touches of this epoch.</param>
    /// <param name="place">The place.</param>
    /// <param name="z">The reading, mm.</param>
    public static bool IsSurprising(IReadOnlyList<GuardTouch> earlier, BedPoint place, double z)
    {
        GuardTouch[] near = [.. earlier.OrderBy(touch => touch.Place.DistanceTo(place)).Take(MostNeighbours)];
        if (near.Length == 0)
        {
            return true;
        }

        (double expected, double residual) = Expect(near, place);
        double allowed = Math.Max(LeastSurpriseMm, Sigmas * residual) + (SurprisePerMm * near[0].Place.DistanceTo(place));
        double allowedFlat = near.Length < 4 ? 0.01 * near[0].Place.DistanceTo(place) : 0;
        return !(Math.Abs(z - expected) <= allowed + allowedFlat);
    }

    /// <summary>Whether a reading is far from the earlier ones of the very same place.</summary>
    /// <param name="series">Heights of earlier touches here in this epoch, mm; 3 or more.</param>
    /// <param name="z">The reading, mm.</param>
    /// <param name="leastMm">The least deviation that is a surprise.</param>
    public static bool IsSurprising(IReadOnlyList<double> series, double z, double leastMm)
    {
        double median = Median(series);
        double spread = 1.4826 * Median([.. series.Select(value => Math.Abs(value - median))]);
        return !(Math.Abs(z - median) <= Math.Max(leastMm, Sigmas * spread));
    }

    // A plane through the neighbours about their centre; flat along what they do not span.
    private static (double Expected, double Residual) Expect(GuardTouch[] near, BedPoint place)
    {
        double x0 = near.Average(touch => touch.Place.X);
        double y0 = near.Average(touch => touch.Place.Y);
        double z0 = near.Average(touch => touch.Z);
        if (near.Length < 4)
        {
            return (near[0].Z, 0);
        }

        double xx = 0, xy = 0, yy = 0, xz = 0, yz = 0;
        foreach (GuardTouch touch in near)
        {
            double x = touch.Place.X - x0;
            double y = touch.Place.Y - y0;
            xx += x * x;
            xy += x * y;
            yy += y * y;
            xz += x * (touch.Z - z0);
            yz += y * (touch.Z - z0);
        }

        // A little stiffness keeps the slope finite across a line of touches.
        double stiffness = 1e-3 * (xx + yy) + 1e-9;
        xx += stiffness;
        yy += stiffness;
        double determinant = (xx * yy) - (xy * xy);
        double a = ((xz * yy) - (yz * xy)) / determinant;
        double b = ((yz * xx) - (xz * xy)) / determinant;
        double Plane(BedPoint at) => z0 + (a * (at.X - x0)) + (b * (at.Y - y0));
        double residual = Math.Sqrt(near.Average(touch => Math.Pow(touch.Z - Plane(touch.Place), 2)));
        return (Plane(place), residual);
    }

    private static double Median(IReadOnlyList<double> values)
    {
        double[] sorted = [.. values.Order()];
        int middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }
}
