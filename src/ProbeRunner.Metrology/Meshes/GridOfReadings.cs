using ProbeRunner.Metrology.Planes;

namespace ProbeRunner.Metrology.Meshes;

/// <summary>Recognises readings that form a full grid.</summary>
public static class GridOfReadings
{
    /// <summary>Coordinates nearer than this part of the bed are one column or row.</summary>
    private const double Together = 1e-4;

    /// <summary>The readings as a map when every column crosses every row in exactly one reading, at least two of each; otherwise null. Spacing may be uneven.</summary>
    public static SurfaceMap? Recognise(IReadOnlyList<SurfacePoint> points)
    {
        ArgumentNullException.ThrowIfNull(points);
        if (points.Count < 4 || points.Any(p => !(double.IsFinite(p.X) && double.IsFinite(p.Y) && double.IsFinite(p.Z))))
        {
            return null;
        }

        double[] xs = Distinct([.. points.Select(p => p.X)]), ys = Distinct([.. points.Select(p => p.Y)]);
        if (xs.Length < 2 || ys.Length < 2 || (long)xs.Length * ys.Length != points.Count)
        {
            return null;
        }

        double[] heights = new double[points.Count];
        bool[] seen = new bool[points.Count];
        foreach (SurfacePoint point in points)
        {
            int at = (Nearest(ys, point.Y) * xs.Length) + Nearest(xs, point.X);
            if (seen[at])
            {
                return null;
            }

            (heights[at], seen[at]) = (point.Z, true);
        }

        return new SurfaceMap([.. xs], [.. ys], [.. heights]);
    }

    private static double[] Distinct(double[] values)
    {
        Array.Sort(values);
        double together = Together * (values[^1] - values[0]);
        return [.. values.Where((value, i) => i == 0 || value - values[i - 1] > together)];
    }

    private static int Nearest(double[] sorted, double value)
    {
        int after = Array.BinarySearch(sorted, value);
        if (after >= 0)
        {
            return after;
        }

        after = Math.Min(~after, sorted.Length - 1);
        return after > 0 && value - sorted[after - 1] <= sorted[after] - value ? after - 1 : after;
    }
}
