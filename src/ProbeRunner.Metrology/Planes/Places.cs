using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Planes;

/// <summary>The checks that every computation over a surface makes on its points first.</summary>
internal static class Places
{
    /// <summary>How far off one line places must lie to span a surface, as a part of their spread.</summary>
    private const double LeastSpread = 1e-9;

    /// <summary>The reason why <paramref name="points"/> determine no plane; null when they do.</summary>
    /// <param name="points">The points.</param>
    /// <param name="needed">How many are needed at least, 3 or more.</param>
    /// <param name="what">What is being computed, as a noun with a capital.</param>
    public static Reason? Check(IReadOnlyList<SurfacePoint> points, int needed, string what)
    {
        ArgumentNullException.ThrowIfNull(points);
        SurfacePoint[] all = points as SurfacePoint[] ?? [.. points];
        for (int i = 0; i < all.Length; i++)
        {
            if (!(double.IsFinite(all[i].X) && double.IsFinite(all[i].Y) && double.IsFinite(all[i].Z)))
            {
                return Reason.NotFinite("Reading", i);
            }
        }

        if (all.Length < needed)
        {
            return Reason.TooFew(what, needed, all.Length);
        }

        return OnOneLine(all)
            ? Reason.Undetermined($"{what} needs places that do not lie on one line; add readings beside the line.")
            : null;
    }

    private static bool OnOneLine(SurfacePoint[] points)
    {
        Box box = Box.Around(points);
        double spread = Math.Max(box.Width, box.Depth);
        if (!(spread > 0) || !double.IsFinite(spread))
        {
            return true;
        }

        // The place farthest from the first gives a direction; on one line no place lies beside it.
        SurfacePoint first = points[0], far = points[0];
        double farthest = 0;
        foreach (SurfacePoint point in points)
        {
            double distance = Math.Abs(point.X - first.X) + Math.Abs(point.Y - first.Y);
            (far, farthest) = distance > farthest ? (point, distance) : (far, farthest);
        }

        double directionX = (far.X - first.X) / spread, directionY = (far.Y - first.Y) / spread;
        foreach (SurfacePoint point in points)
        {
            double x = (point.X - first.X) / spread, y = (point.Y - first.Y) / spread;
            if (Math.Abs((x * directionY) - (y * directionX)) > LeastSpread)
            {
                return false;
            }
        }

        return true;
    }
}
