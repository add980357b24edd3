namespace ProbeRunner.Metrology.JointModel;

/// <summary>Readings that fill a grid: heights less their mean, row by row.</summary>
internal sealed record FullGrid(double[] Xs, double[] Ys, double[] Z, double MeanZ)
{
    /// <summary>Coordinates nearer than this part of the extent are one column or row.</summary>
    private const double Together = 1e-4;

    /// <summary>Readings off the grid (revisits of a reference point) may be this part of all.</summary>
    private const double MostBeside = 0.2;

    /// <summary>
    /// The grid that the readings fill, several at one place averaged; null when they fill none.
    /// Columns and rows that hold less than half as many readings as the fullest do not count.
    /// </summary>
    public static FullGrid? Recognise(IReadOnlyList<CaptureReading> readings, double[] heights)
    {
        double[] xs = Lines([.. readings.Select(r => r.X)]), ys = Lines([.. readings.Select(r => r.Y)]);
        int cells = xs.Length * ys.Length;
        if (xs.Length < 6 || ys.Length < 6 || cells > readings.Count || readings.Count - cells > MostBeside * readings.Count)
        {
            return null;
        }

        double[] sums = new double[cells], counts = new double[cells];
        for (int i = 0; i < readings.Count; i++)
        {
            if (On(xs, readings[i].X) is { } column && On(ys, readings[i].Y) is { } row)
            {
                sums[(row * xs.Length) + column] += heights[i];
                counts[(row * xs.Length) + column]++;
            }
        }

        if (counts.Contains(0))
        {
            return null;
        }

        double[] means = [.. sums.Zip(counts, (sum, count) => sum / count)];
        double mean = means.Average();
        return new FullGrid(xs, ys, [.. means.Select(z => z - mean)], mean);
    }

    private static double[] Lines(double[] values)
    {
        Array.Sort(values);
        double together = Together * (values[^1] - values[0]);
        var lines = new List<(double First, int Count)>();
        foreach (double value in values)
        {
            if (lines.Count > 0 && value - lines[^1].First <= together)
            {
                lines[^1] = (lines[^1].First, lines[^1].Count + 1);
            }
            else
            {
                lines.Add((value, 1));
            }
        }

        // The reference point's line may be the fullest by far: half of the median line is what counts.
        int[] counts = [.. lines.Select(line => line.Count).Order()];
        int usual = counts[(int)(0.75 * (counts.Length - 1))];
        return [.. lines.Where(line => 2 * line.Count >= usual).Select(line => line.First)];
    }

    private static int? On(double[] lines, double value)
    {
        double together = 2 * Together * (lines[^1] - lines[0]);
        int at = Array.BinarySearch(lines, value - together);
        at = at >= 0 ? at : ~at;
        return at < lines.Length && Math.Abs(lines[at] - value) <= together ? at : null;
    }
}
