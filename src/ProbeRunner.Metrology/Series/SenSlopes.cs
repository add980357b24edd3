namespace ProbeRunner.Metrology.Series;

/// <summary>Order statistics of the slopes between all pairs of readings (Sen 1968).</summary>
internal static class SenSlopes
{
    private const int LargestListed = 600;

    /// <summary>
    /// The slope which, taken out of the readings, leaves rising less falling pairs at <paramref name="score"/>:
    /// 0 gives Sen's slope; plus and minus z sqrt(V) give its limits (Gilbert 1987, 16.4.3).
    /// </summary>
    internal static double AtScore(double[] values, double score) =>
        values.Length <= LargestListed ? Listed(values, score) : Bisected(values, score);

    private static double Listed(double[] values, double score)
    {
        int n = values.Length;
        var slopes = new double[n * (n - 1) / 2];
        int at = 0;
        for (int i = 0; i < n; i++)
        {
            for (int j = i + 1; j < n; j++)
            {
                slopes[at++] = (values[j] - values[i]) / (j - i);
            }
        }

        Array.Sort(slopes);
        double rank = Math.Clamp(((slopes.Length - score) / 2) - 0.5, 0, slopes.Length - 1);
        int below = (int)rank;
        return below + 1 < slopes.Length ? slopes[below] + ((rank - below) * (slopes[below + 1] - slopes[below])) : slopes[below];
    }

    /// <summary>Without listing the slopes: the score falls steadily as more slope is taken out.</summary>
    private static double Bisected(double[] values, double score)
    {
        double high = values.Zip(values.Skip(1), (a, b) => Math.Abs(b - a)).Max();
        double low = -high;
        var left = new double[values.Length];
        for (int step = 0; step < 100 && high - low > 1e-15 * Math.Max(Math.Abs(low), Math.Abs(high)); step++)
        {
            double slope = low + ((high - low) / 2);
            for (int i = 0; i < left.Length; i++)
            {
                left[i] = values[i] - (slope * i);
            }

            if (KendallCount.Score(left) > score)
            {
                low = slope;
            }
            else
            {
                high = slope;
            }
        }

        return low + ((high - low) / 2);
    }
}
