using ProbeRunner.Benchmarks.BedSuite;
using ProbeRunner.Metrology.Meshes;

namespace ProbeRunner.Metrology.Tests.Data;

/// <summary>R's volcano data (R 4.2.2, package datasets): 87 rows i of 61 heights j. Here x = i and y = j, as the published checks use them.</summary>
internal static class Volcano
{
    /// <summary>v(i, j).</summary>
    public static IReadOnlyList<double[]> Heights { get; } = Suite.Landscape;

    /// <summary>Every k-th row and column, rows 0 to 84.</summary>
    public static SurfaceMap KeepingEvery(int k)
    {
        double[] rows = [.. Enumerable.Range(0, (84 / k) + 1).Select(i => (double)(i * k))];
        double[] columns = [.. Enumerable.Range(0, (60 / k) + 1).Select(j => (double)(j * k))];
        return new SurfaceMap([.. rows], [.. columns], [.. columns.SelectMany(j => rows.Select(i => Heights[(int)i][(int)j]))]);
    }
}
