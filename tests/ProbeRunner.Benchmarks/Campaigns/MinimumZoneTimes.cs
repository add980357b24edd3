using System.Globalization;
using ProbeRunner.Benchmarks.BedSuite;
using ProbeRunner.Metrology.Flatness;
using ProbeRunner.Metrology.Planes;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>Time of the minimum zone of 100 to 100,000 points. The times of hull and linear programme on the same machine come from reference/minimum_zone_times.py.</summary>
public static class MinimumZoneTimes
{
    public static void Run(TextWriter output, int beds)
    {
        ArgumentNullException.ThrowIfNull(output);
        int runs = Math.Clamp(beds, 9, 101);
        output.WriteLine("minimum zone, milliseconds, median (least)");
        foreach (int count in new[] { 100, 1_000, 10_000, 100_000 })
        {
            var chance = new Chance(count);
            SurfacePoint[] points =
            [
                .. Enumerable.Range(0, count).Select(_ => (X: chance.Between(0, 220), Y: chance.Between(0, 220)))
                    .Select(p => new SurfacePoint(p.X, p.Y, (0.3 * Math.Sin(p.X / 60)) + (0.2 * Math.Cos(p.Y / 45)) + (0.005 * chance.Normal()))),
            ];
            (double median, double least) = Timing.Milliseconds(runs, () => MinimumZone.Fit(points));
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{count,7} points {median,9:f3} ({least:f3})"));
        }
    }
}
