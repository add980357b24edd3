using System.Globalization;
using ProbeRunner.Benchmarks.BedSuite;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.NextPlace;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>
/// How many touches a map of a wanted accuracy takes: a plain K x K grid whose touches are the mesh's nodes, against the adaptive capture.
/// Errors are taken on a 141 x 141 lattice after the controller's own bilinear mesh (15 x 15 for the adaptive capture).
/// The probe's repeatability is what a series of ten readings says; those ten are not counted on either side.
/// </summary>
public static class MapCampaign
{
    private const int FirstBed = 1000;
    private const int MeshSide = 15;
    private const int MapSide = 29;
    private const int MostTouches = 160;
    private const int SeriesReadings = 10;

    public static void Run(TextWriter output, int beds)
    {
        ArgumentNullException.ThrowIfNull(output);
        SuiteBed[] suite = [.. Suite.Beds(FirstBed, beds)];
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"map to accuracy, beds {FirstBed} to {FirstBed + beds - 1}; every bed's own error must be within the target on 95 % of the beds"));
        output.WriteLine("target  plain touches  adaptive mean  median  beds met  ratio");
        double[] targets = [0.03, 0.02, 0.015];
        int[] plain = PlainTouches(suite, targets);
        for (int t = 0; t < targets.Length; t++)
        {
            double target = targets[t];
            var runs = new (int Touches, double Error)[beds];
            Parallel.For(0, beds, b => runs[b] = Adaptive(suite[b], FirstBed + b, target));
            double mean = runs.Average(r => r.Touches), met = runs.Count(r => r.Error <= target) / (double)beds;
            int median = runs.Select(r => r.Touches).Order().ElementAt(beds / 2);
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture, $"{target,6:f3}  {plain[t],13}  {mean,13:f1}  {median,6}  {met,8:p1}  {mean / plain[t],5:f3}"));
        }
    }

    /// <summary>The smallest plain grid that meets each target on 95 % of the beds.</summary>
    internal static int[] PlainTouches(SuiteBed[] suite, double[] targets)
    {
        int[] touches = [.. targets.Select(_ => int.MaxValue)];
        for (int side = 3; side <= MeshSide && touches.Contains(int.MaxValue); side++)
        {
            double[] errors = [.. suite.Select((bed, b) => Plain(bed, FirstBed + b, side)).Order()];
            double typical = errors[(int)Math.Ceiling(0.95 * errors.Length) - 1];
            for (int t = 0; t < targets.Length; t++)
            {
                touches[t] = touches[t] == int.MaxValue && typical <= targets[t] ? side * side : touches[t];
            }
        }

        return touches;
    }

    private static double Plain(SuiteBed bed, int seed, int side)
    {
        var chance = new Chance(seed + (1_000_000 * side));
        var grid = new MeshGrid(0, 0, bed.Side, bed.Side, side, side);
        CorrectionMesh mesh = CorrectionMesh.Sampled(grid, (x, y) => bed.HeightAt(x, y) + (bed.Noise * chance.Normal()));
        return MeshError.Of(mesh, bed.Truth, EdgeRule.Clamped).Rms;
    }

    private static (int Touches, double Error) Adaptive(SuiteBed bed, int seed, double target)
    {
        var chance = new Chance(seed + 555_555);
        AdaptiveCapture capture = AdaptiveCapture.Start(new AdaptiveCaptureOptions
        {
            Printable = bed.Box,
            Reachable = bed.Box,
            TargetRmsMm = target,
            MostTouches = MostTouches,
            Model = new SurfaceModelOptions { RepeatabilityMm = bed.Noise * chance.DeviationOf(SeriesReadings), MayDrift = false },
        }).Value;
        while (!capture.Next.IsEmpty)
        {
            capture = capture.With(
                [.. capture.Next.Select(p => new CaptureReading(p.X, p.Y, bed.HeightAt(p.X, p.Y) + (bed.Noise * chance.Normal()), 0, 1))]).Value;
        }

        var lattice = SurfaceMap.Evenly(0, bed.Side, MapSide);
        CorrectionMesh mesh = MeshFit.LeastSquares(
            new MeshGrid(0, 0, bed.Side, bed.Side, MeshSide, MeshSide), capture.Posterior!.PredictHeights(lattice, lattice));
        return (capture.Readings.Length, MeshError.Of(mesh, bed.Truth, EdgeRule.Clamped).Rms);
    }
}
