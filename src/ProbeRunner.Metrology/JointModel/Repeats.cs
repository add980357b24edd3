namespace ProbeRunner.Metrology.JointModel;

/// <summary>Scatter of readings repeated at one place within one epoch.</summary>
internal static class Repeats
{
    /// <summary>Places nearer than this are one place, mm.</summary>
    private const double SamePlaceMm = 0.05;

    /// <summary>Pooled standard deviation and its degrees of freedom.</summary>
    public static (double StandardDeviation, int Freedom) Pooled(IReadOnlyList<CaptureReading> readings)
    {
        double squares = 0;
        int freedom = 0;
        foreach (IGrouping<(long, long, int), CaptureReading> place in readings.GroupBy(r => (Cell(r.X), Cell(r.Y), r.Epoch)))
        {
            double mean = place.Average(r => r.Z);
            squares += place.Sum(r => (r.Z - mean) * (r.Z - mean));
            freedom += place.Count() - 1;
        }

        return (freedom > 0 ? Math.Sqrt(squares / freedom) : 0, freedom);
    }

    private static long Cell(double position) => (long)Math.Clamp(Math.Round(position / SamePlaceMm), -1e15, 1e15);
}
