using System.Diagnostics;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>Times of repeated work.</summary>
internal static class Timing
{
    /// <summary>Median and least milliseconds of so many runs, after two that let the code be compiled.</summary>
    public static (double Median, double Least) Milliseconds(int runs, Action work)
    {
        work();
        work();
        double[] times = [.. Enumerable.Range(0, runs).Select(_ =>
        {
            long start = Stopwatch.GetTimestamp();
            work();
            return Stopwatch.GetElapsedTime(start).TotalMilliseconds;
        }).Order()];
        return (times[runs / 2], times[0]);
    }
}
