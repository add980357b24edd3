namespace ProbeRunner.Metrology.Series;

/// <summary>Sums over a series that keep their digits: the mean is corrected by the mean of what it left over.</summary>
public static class Moments
{
    /// <summary>Arithmetic mean of one reading or more.</summary>
    public static double Mean(IReadOnlyList<double> readings)
    {
        ArgumentNullException.ThrowIfNull(readings);
        ArgumentOutOfRangeException.ThrowIfZero(readings.Count, nameof(readings));
        double first = readings[0];
        double rough = first + (Sum(readings.Count, i => readings[i] - first) / readings.Count);
        return rough + (Sum(readings.Count, i => readings[i] - rough) / readings.Count);
    }

    /// <summary>Sum of squared deviations from the mean, two passes.</summary>
    public static double SquaredDeviations(IReadOnlyList<double> readings)
    {
        double mean = Mean(readings);
        double left = Sum(readings.Count, i => readings[i] - mean);
        return Math.Max(0, Sum(readings.Count, i => (readings[i] - mean) * (readings[i] - mean)) - (left * left / readings.Count));
    }

    /// <summary>Standard deviation with n - 1; two readings or more.</summary>
    public static double StandardDeviation(IReadOnlyList<double> readings)
    {
        ArgumentNullException.ThrowIfNull(readings);
        ArgumentOutOfRangeException.ThrowIfLessThan(readings.Count, 2, nameof(readings));
        return Math.Sqrt(SquaredDeviations(readings) / (readings.Count - 1));
    }

    /// <summary>Median; the middle of the two middle readings when their number is even.</summary>
    public static double Median(IReadOnlyList<double> readings)
    {
        ArgumentNullException.ThrowIfNull(readings);
        ArgumentOutOfRangeException.ThrowIfZero(readings.Count, nameof(readings));
        double[] sorted = [.. readings.Order()];
        int half = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[half] : sorted[half - 1] + ((sorted[half] - sorted[half - 1]) / 2);
    }

    /// <summary>Kahan's compensated sum of term(0) to term(count - 1).</summary>
    internal static double Sum(int count, Func<int, double> term)
    {
        double sum = 0;
        double lost = 0;
        for (int i = 0; i < count; i++)
        {
            double next = term(i) - lost;
            double total = sum + next;
            lost = total - sum - next;
            sum = total;
        }

        return sum;
    }
}
