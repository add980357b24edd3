using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;

namespace ProbeRunner.Procedures.Steps.FirstLayer;

/// <summary>Where patches are laid and at which heights: corners first, coarse steps that find the adhesion window, then fine ones about its ends.</summary>
internal static class PatchPlaces
{
    /// <summary>Side of a patch, mm.</summary>
    public const double SideMm = 16;

    private const double EdgeMm = 4;
    private const int Side = 4;

    /// <summary>Steps inwards from each end of the window, mm, to find roughly where it lies.</summary>
    private static readonly double[] Coarse = [0, 0.05, 0.025, 0.075];

    /// <summary>Steps about each end, mm, once it is roughly known.</summary>
    private static readonly double[] Fine = [0, 0.012, -0.012, 0.006];

    /// <summary>Patches that fit into the printable area and off the clips.</summary>
    public static ImmutableArray<BedPoint> On(MachineProfile profile)
    {
        BedRectangle area = profile.Bed.Printable.Inset((SideMm / 2) + EdgeMm);
        ReachableArea reach = ReachableArea.ForNozzle(profile);
        return
        [
            .. Enumerable.Range(0, Side * Side)
                .Select(index => (Column: index % Side, Row: index / Side))
                .OrderBy(at => IsEnd(at.Column) && IsEnd(at.Row) ? 0 : 1)
                .Select(at => new BedPoint(At(area.MinX, area.MaxX, at.Column), At(area.MinY, area.MaxY, at.Row)))
                .Where(place => Corners(place).All(reach.CanTouch)),
        ];
    }

    /// <summary>The height of a patch; low and high ones alternate, so that no part of the bed gets all of a kind.</summary>
    /// <param name="index">Its number within its batch, from 0.</param>
    /// <param name="correctionMm">What an earlier batch found; null for the first.</param>
    public static double Height(FirstLayerProfile layer, int index, double? correctionMm)
    {
        double[] steps = correctionMm is null ? Coarse : Fine;
        double step = steps[index / 2 % steps.Length];
        double height = (index % 2 == 0 ? layer.LowestGapMm + step : layer.HighestGapMm - step) + (correctionMm ?? 0);
        return Bounded(layer, height);
    }

    /// <summary>A height within what may be laid at: half the layer's height to twice it.</summary>
    public static double Bounded(FirstLayerProfile layer, double heightMm) =>
        Math.Round(Math.Clamp(heightMm, layer.HeightMm / 2, 2 * layer.HeightMm), 3);

    private static IEnumerable<BedPoint> Corners(BedPoint place) =>
        [new(place.X - (SideMm / 2), place.Y - (SideMm / 2)), new(place.X + (SideMm / 2), place.Y - (SideMm / 2)), new(place.X - (SideMm / 2), place.Y + (SideMm / 2)), new(place.X + (SideMm / 2), place.Y + (SideMm / 2))];

    private static bool IsEnd(int index) => index is 0 or Side - 1;

    private static double At(double least, double most, int index) => Math.Round(least + ((most - least) * index / (Side - 1)), 1);
}
