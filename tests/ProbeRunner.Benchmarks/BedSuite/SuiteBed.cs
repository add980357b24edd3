using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;

namespace ProbeRunner.Benchmarks.BedSuite;

/// <summary>The three families of beds.</summary>
public enum BedFamily
{
    /// <summary>Tilt, bow, twist, wide bumps, a faint ripple.</summary>
    Gentle,

    /// <summary>The same with narrower bumps and a stronger ripple.</summary>
    Fine,

    /// <summary>Patches of a measured landscape.</summary>
    Volcano,
}

/// <summary>One bed of the suite: its true shape and the scatter of the probe on it.</summary>
public sealed class SuiteBed(BedFamily family, double side, double noise, Func<double, double, double> height)
{
    private const int LatticeSide = 141;
    private SurfaceMap? truth;

    public BedFamily Family => family;

    /// <summary>Edge of the square bed, mm.</summary>
    public double Side => side;

    /// <summary>Standard deviation of one touch, mm.</summary>
    public double Noise => noise;

    public Box Box => new(0, 0, side, side);

    public double HeightAt(double x, double y) => height(x, y);

    /// <summary>The true heights on the lattice on which errors are taken.</summary>
    public SurfaceMap Truth => truth ??= SurfaceMap.Of(Box, LatticeSide, LatticeSide, height);
}
