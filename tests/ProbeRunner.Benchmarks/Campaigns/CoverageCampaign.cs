using System.Globalization;
using ProbeRunner.Benchmarks.BedSuite;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Meshes;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>How much of the bed lies within the map's 95 % intervals: pooled over the beds, and on the twentieth of them with the least.</summary>
public static class CoverageCampaign
{
    private const int FirstBed = 3000;
    private const int Lattice = 29;
    private const double Inset = 0.05;
    private const int SeriesReadings = 10;

    public static void Run(TextWriter output, int beds)
    {
        ArgumentNullException.ThrowIfNull(output);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"coverage of 95 % intervals, grids of touches, beds {FirstBed} to {FirstBed + beds - 1}"));
        output.WriteLine("touches  pooled  worst twentieth");
        var pooled = new List<double>();
        foreach (int side in new[] { 3, 4, 5, 6, 7, 8, 10 })
        {
            double[] parts = Parts(FirstBed, beds, side);
            pooled.AddRange(parts);
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture, $"{side * side,7}  {parts.Average(),6:p1}  {WorstTwentieth(parts),15:p1}"));
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"    all  {pooled.Average(),6:p1}"));
    }

    /// <summary>For each bed the part of its lattice that lies within the 95 % intervals of a map of side x side touches.</summary>
    public static double[] Parts(int firstBed, int beds, int side)
    {
        double[] parts = new double[beds];
        Parallel.For(0, beds, b => parts[b] = Part(Suite.Bed(firstBed + b), new Chance(firstBed + b + (777_777 * side)), side));
        return parts;
    }

    /// <summary>Mean of the least twentieth, of one bed at least.</summary>
    public static double WorstTwentieth(double[] parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        return parts.Order().Take(Math.Max(1, parts.Length / 20)).Average();
    }

    private static double Part(SuiteBed bed, Chance chance, int side)
    {
        var touched = SurfaceMap.Evenly(Inset * bed.Side, (1 - Inset) * bed.Side, side);
        double repeatability = bed.Noise * chance.DeviationOf(SeriesReadings);
        CaptureReading[] readings =
        [
            .. touched.SelectMany(y => touched.Select(x => new CaptureReading(x, y, bed.HeightAt(x, y) + (bed.Noise * chance.Normal()), 0, 1))),
        ];
        SurfacePosterior posterior = SurfaceModel.Fit(
            readings, new SurfaceModelOptions { RepeatabilityMm = repeatability, MayDrift = false, Bed = bed.Box }).Value;
        var lattice = SurfaceMap.Evenly(0, bed.Side, Lattice);
        UncertainMap map = posterior.PredictMap(lattice, lattice);
        int within = 0;
        for (int k = 0; k < map.StandardDeviations.Length; k++)
        {
            double error = map.Heights.Heights[k] - bed.HeightAt(lattice[k % Lattice], lattice[k / Lattice]);
            within += Math.Abs(error) <= 1.959964 * map.StandardDeviations[k] ? 1 : 0;
        }

        return within / (double)map.StandardDeviations.Length;
    }
}
