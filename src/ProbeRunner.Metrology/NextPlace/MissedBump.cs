using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.NextPlace;

/// <summary>The smallest bump that could have been missed: what a map of few touches can't promise, said in mm.</summary>
/// <param name="X">Where a bump would hide best, mm.</param>
/// <param name="Y">Where a bump would hide best, mm.</param>
/// <param name="WidthMm">Its full width at half its height, mm.</param>
/// <param name="HeightMm">Lower ones may have been missed there, mm; infinite when no touch is near enough to notice one of any height.</param>
public readonly record struct MissedBump(double X, double Y, double WidthMm, double HeightMm)
{
    /// <summary>A bump is sure to be noticed when it stands out by this many standard deviations: 5 % false alarms, 5 % missed, one-sided.</summary>
    private const double SureRatio = 3.29;

    private const int LatticeSide = 21;

    /// <summary>A ratio below this is no notice at all.</summary>
    private const double NoNotice = 1e-9;

    /// <summary>
    /// Looks over an area for the place where a Gaussian bump would hide best. Refused for maps of large grids, which have no such gaps, and for a width out of range.
    /// </summary>
    /// <param name="posterior">The map.</param>
    /// <param name="area">Where to look.</param>
    /// <param name="widthMm">Full width at half height, 5 to 200 mm.</param>
    public static Answer<MissedBump> Largest(SurfacePosterior posterior, Box area, double widthMm)
    {
        ArgumentNullException.ThrowIfNull(posterior);
        if (widthMm is not (>= 5 and <= 200) || !area.HasArea)
        {
            return Reason.OutOfRange("The bump's width must lie between 5 and 200 mm, and the area must have a width and a depth.");
        }

        if (posterior.Processes[0] is not ScatteredProcess process)
        {
            return Reason.Assumption("A map of a large full grid leaves no gap to hide in; its own step is what could be missed.");
        }

        double perSquare = 4 * Math.Log(2) / (widthMm * widthMm);
        MissedBump worst = default;
        foreach (double y in SurfaceMap.Evenly(area.MinY, area.MaxY, LatticeSide))
        {
            foreach (double x in SurfaceMap.Evenly(area.MinX, area.MaxX, LatticeSide))
            {
                double[] shape = [.. process.Places.Select(p => Math.Exp(-perSquare * (((p.X - x) * (p.X - x)) + ((p.Y - y) * (p.Y - y)))))];
                double noticed = process.Noticed(shape);
                double height = noticed > NoNotice ? SureRatio / Math.Sqrt(noticed) : double.PositiveInfinity;
                worst = height > worst.HeightMm ? new MissedBump(x, y, widthMm, height) : worst;
            }
        }

        return worst;
    }
}
