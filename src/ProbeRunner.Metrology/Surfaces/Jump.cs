using ProbeRunner.Metrology.Planes;

namespace ProbeRunner.Metrology.Surfaces;

/// <summary>Whether a new reading can belong to the surface that its neighbours show.</summary>
public static class Jump
{
    /// <summary>Neighbours that the local plane is laid through.</summary>
    private const int Neighbours = 8;

    /// <summary>Over this distance a bow of 0.4 mm leaves its own plane by about 0.1 mm; farther readings say too little of the place.</summary>
    private const double NearMm = 45;

    /// <summary>
    /// By how much a reading stands off the least-squares plane through its nearest neighbours, up to eight within 45 mm; null when they are fewer than
    /// four or lie on one line, which tells nothing. Bow and bumps of a bed stay well below a third of a millimetre at the spacing of any usual grid; a knocked
    /// plate, lost steps or a misread number do not (common practice, no source).
    /// </summary>
    /// <param name="earlier">Readings so far, of one datum or of datums that differ by little.</param>
    /// <param name="reading">The new one.</param>
    public static double? Against(IEnumerable<SurfacePoint> earlier, SurfacePoint reading)
    {
        ArgumentNullException.ThrowIfNull(earlier);
        SurfacePoint[] nearest = [.. earlier.Where(point => Distance(point, reading) <= NearMm * NearMm).OrderBy(point => Distance(point, reading)).Take(Neighbours)];
        return nearest.Length >= 4 && PlaneFit.LeastSquares(nearest).OrElse(null) is { } fit ? reading.Z - fit.Plane.HeightAt(reading.X, reading.Y) : null;
    }

    private static double Distance(SurfacePoint a, SurfacePoint b) => ((a.X - b.X) * (a.X - b.X)) + ((a.Y - b.Y) * (a.Y - b.Y));
}
