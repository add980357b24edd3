using System.Globalization;
using ProbeRunner.Metrology.Meshes;

namespace ProbeRunner.Benchmarks.BedSuite;

/// <summary>
/// Seeded beds: of every five, two gentle, two fine and one volcano patch; half of them 220 mm and half 350 mm square. With u and v from -1 to 1:
/// tilt 0 to 0.8 in a random direction, bow up to 0.4 either way in u and in v, twist up to 0.3 u v / 2, up to three Gaussian bumps of up to 0.15, one ripple.
/// </summary>
public static class Suite
{
    /// <summary>R's volcano data: 87 rows of 61 heights, m.</summary>
    public static IReadOnlyList<double[]> Landscape { get; } = ReadLandscape();

    /// <summary>Beds number first, first + 1, ...; a number always gives the same bed.</summary>
    public static IEnumerable<SuiteBed> Beds(int first, int count) => Enumerable.Range(first, count).Select(Bed);

    /// <summary>One bed.</summary>
    public static SuiteBed Bed(int number)
    {
        var chance = new Chance(unchecked((number * 7919) + 17));
        double side = number % 2 == 0 ? 220 : 350, noise = chance.Between(0.002, 0.012);
        BedFamily family = (number % 5) switch { 0 or 1 => BedFamily.Gentle, 2 or 3 => BedFamily.Fine, _ => BedFamily.Volcano };
        return new SuiteBed(family, side, noise, family == BedFamily.Volcano ? Patch(chance, side) : Smooth(chance, side, family == BedFamily.Fine));
    }

    private static Func<double, double, double> Smooth(Chance chance, double side, bool fine)
    {
        double tilt = chance.Between(0, 0.8) / 2, direction = chance.Between(0, 2 * Math.PI);
        double bowU = chance.Between(-0.4, 0.4), bowV = chance.Between(-0.4, 0.4), twist = chance.Between(-0.3, 0.3) / 2;
        var bumps = new (double X, double Y, double Height, double PerSquare)[chance.Whole(0, 3)];
        for (int k = 0; k < bumps.Length; k++)
        {
            double width = chance.Between(fine ? 20 : 40, 60);
            bumps[k] = (chance.Between(0, side), chance.Between(0, side), chance.Between(-0.15, 0.15), 4 * Math.Log(2) / (width * width));
        }

        double rippleDirection = chance.Between(0, 2 * Math.PI), wave = 2 * Math.PI / chance.Between(8, 40);
        double ripple = chance.Between(0, fine ? 0.02 : 0.005) / 2, phase = chance.Between(0, 2 * Math.PI);
        (double tiltU, double tiltV) = (tilt * Math.Cos(direction), tilt * Math.Sin(direction));
        (double waveX, double waveY) = (wave * Math.Cos(rippleDirection), wave * Math.Sin(rippleDirection));
        return (x, y) =>
        {
            double u = (2 * x / side) - 1, v = (2 * y / side) - 1;
            double height = (tiltU * u) + (tiltV * v) + (bowU * ((u * u) - (1.0 / 3))) + (bowV * ((v * v) - (1.0 / 3))) + (twist * u * v)
                + (ripple * Math.Sin((waveX * x) + (waveY * y) + phase));
            foreach ((double atX, double atY, double bump, double perSquare) in bumps)
            {
                height += bump * Math.Exp(-perSquare * (((x - atX) * (x - atX)) + ((y - atY) * (y - atY))));
            }

            return height;
        };
    }

    private static Func<double, double, double> Patch(Chance chance, double side)
    {
        int nodes = chance.Whole(45, 61);
        int first = chance.Whole(0, Landscape.Count - nodes), second = chance.Whole(0, Landscape[0].Length - nodes);
        bool flipX = chance.Coin(), flipY = chance.Coin(), transpose = chance.Coin();
        double[] heights = new double[nodes * nodes];
        for (int k = 0; k < heights.Length; k++)
        {
            int i = flipX ? nodes - 1 - (k % nodes) : k % nodes, j = flipY ? nodes - 1 - (k / nodes) : k / nodes;
            heights[k] = transpose ? Landscape[first + j][second + i] : Landscape[first + i][second + j];
        }

        double lowest = heights.Min(), scale = 0.5 / (heights.Max() - lowest);
        var places = SurfaceMap.Evenly(0, side, nodes);
        var spline = new CubicSurface(new SurfaceMap(places, places, [.. heights.Select(h => (h - lowest) * scale)]), SplineEnds.Natural);
        return spline.HeightAt;
    }

    private static double[][] ReadLandscape()
    {
        using Stream stream = typeof(Suite).Assembly.GetManifestResourceStream("volcano.csv")!;
        using var reader = new StreamReader(stream);
        return
        [
            .. reader.ReadToEnd().Split('\n').Where(line => line.Length > 0 && line[0] != '#')
                .Select(line => line.Split(',').Select(v => double.Parse(v, CultureInfo.InvariantCulture)).ToArray()),
        ];
    }
}
