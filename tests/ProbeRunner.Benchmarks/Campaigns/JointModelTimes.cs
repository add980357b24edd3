using System.Globalization;
using ProbeRunner.Benchmarks.BedSuite;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Meshes;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>
/// Time to fit the joint model, all settings of its scales weighed, and to map 100 x 100 places. The reference library's times on the same machine come
/// from reference/joint_model_times.py.
/// </summary>
public static class JointModelTimes
{
    public static void Run(TextWriter output, int beds)
    {
        ArgumentNullException.ThrowIfNull(output);
        int runs = Math.Clamp(beds, 5, 15);
        output.WriteLine("joint model: fit and 100 x 100 map, milliseconds, median (least)");
        var chance = new Chance(1);
        Report(output, runs, "900 scattered", [.. Enumerable.Range(0, 900).Select(_ => Reading(chance, chance.Between(0, 220), chance.Between(0, 220)))]);
        Report(output, runs, "50 x 50 grid", Grid(chance, 50));
        Report(output, runs, "100 x 100 grid", Grid(chance, 100));
    }

    private static CaptureReading[] Grid(Chance chance, int side) =>
        [.. Enumerable.Range(0, side * side).Select(k => Reading(chance, 220.0 * (k % side) / (side - 1), 220.0 * (k / side) / (side - 1)))];

    private static CaptureReading Reading(Chance chance, double x, double y)
    {
        double u = (x / 110) - 1;
        return new CaptureReading(
            x, y, (0.1 * Math.Sin(x / 35) * Math.Cos(y / 40)) + (0.2 * ((u * u) - (1.0 / 3))) + (0.003 * chance.Normal()), 0, 1);
    }

    private static void Report(TextWriter output, int runs, string what, CaptureReading[] readings)
    {
        var lattice = SurfaceMap.Evenly(0, 220, 100);
        var options = new SurfaceModelOptions { RepeatabilityMm = 0.003, MayDrift = false };
        (double fit, double leastFit) = Timing.Milliseconds(runs, () => SurfaceModel.Fit(readings, options));
        SurfacePosterior posterior = SurfaceModel.Fit(readings, options).Value;
        (double heights, double leastHeights) = Timing.Milliseconds(runs, () => posterior.PredictHeights(lattice, lattice));
        (double map, double leastMap) = Timing.Milliseconds(runs, () => posterior.PredictMap(lattice, lattice));
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{what,-15} fit {fit,7:f1} ({leastFit:f1})  heights {heights,7:f1} ({leastHeights:f1})  heights with sd {map,7:f1} ({leastMap:f1})"));
    }
}
