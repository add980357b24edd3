using System.Globalization;
using ProbeRunner.Benchmarks.BedSuite;
using ProbeRunner.Metrology.Meshes;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>What fitting the correction mesh gains over sampling it at the nodes, with the bed known: mean over the beds of error ratios, both on the 141 x 141 lattice.</summary>
public static class MeshCampaign
{
    private const int FirstBed = 2000;
    private const int MinimaxLattice = 71;

    public static void Run(TextWriter output, int beds)
    {
        ArgumentNullException.ThrowIfNull(output);
        SuiteBed[] suite = [.. Suite.Beds(FirstBed, beds)];
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"correction mesh fitted against sampled, beds {FirstBed} to {FirstBed + beds - 1}"));
        output.WriteLine("nodes   RMS least squares  worst least squares  worst minimax  RMS minimax");
        double[] all = new double[4];
        int[] sides = [3, 4, 5, 6, 7, 8, 9];
        foreach (int side in sides)
        {
            double[][] ratios = new double[beds][];
            Parallel.For(0, beds, b => ratios[b] = Ratios(suite[b], side));
            double[] means = [.. Enumerable.Range(0, 4).Select(k => ratios.Average(r => r[k]))];
            all = [.. all.Zip(means, (sum, mean) => sum + (mean / sides.Length))];
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{side} x {side}  {means[0],18:f3}  {means[1],19:f3}  {means[2],13:f3}  {means[3],11:f3}"));
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"mean   {all[0],18:f3}  {all[1],19:f3}  {all[2],13:f3}  {all[3],11:f3}"));
    }

    private static double[] Ratios(SuiteBed bed, int side)
    {
        var grid = new MeshGrid(0, 0, bed.Side, bed.Side, side, side);
        MeshError sampled = MeshError.Of(CorrectionMesh.Sampled(grid, bed.HeightAt), bed.Truth, EdgeRule.Clamped);
        MeshError fitted = MeshError.Of(MeshFit.LeastSquares(grid, bed.Truth), bed.Truth, EdgeRule.Clamped);
        SurfaceMap coarser = SurfaceMap.Of(bed.Box, MinimaxLattice, MinimaxLattice, bed.HeightAt);
        MeshError minimax = MeshError.Of(MeshFit.Minimax(grid, coarser).Mesh, bed.Truth, EdgeRule.Clamped);
        return [fitted.Rms / sampled.Rms, fitted.Worst / sampled.Worst, minimax.Worst / sampled.Worst, minimax.Rms / sampled.Rms];
    }
}
