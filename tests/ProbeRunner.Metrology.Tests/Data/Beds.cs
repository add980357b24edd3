using ProbeRunner.Metrology.Planes;

namespace ProbeRunner.Metrology.Tests.Data;

/// <summary>Published points that several tests use.</summary>
internal static class Beds
{
    private static readonly int[][] SevenBySevenHeights =
    [
        [100, 101, 101, 108, 108, 107, 103], [114, 124, 165, 180, 168, 130, 104], [115, 143, 174, 156, 173, 162, 110],
        [110, 125, 154, 161, 138, 120, 107], [112, 132, 150, 142, 140, 108, 103], [109, 121, 129, 119, 107, 97, 96],
        [97, 100, 100, 100, 96, 94, 94],
    ];

    /// <summary>A 7 x 7 part of R's volcano data as a bed: x = 30 times the row, y = 30 times the column, z = (v - 130)/1000, mm.</summary>
    public static SurfacePoint[] SevenBySeven { get; } =
        [.. SevenBySevenHeights.SelectMany((row, i) => row.Select((v, j) => new SurfacePoint(30 * i, 30 * j, (v - 130) / 1000.0)))];

    /// <summary>Nine heights from a gauging textbook (the heights from memory), x = column, y = row, both 0 to 2.</summary>
    public static SurfacePoint[] GaugingExample { get; } = Grid([0, 4, 6, -5, 20, -9, -10, -3, 8]);

    /// <summary>Nine heights row by row on x, y = 0, 1, 2.</summary>
    public static SurfacePoint[] Grid(double[] heights) =>
        [.. heights.Select((z, k) => new SurfacePoint(k % 3, k / 3, z))];
}
