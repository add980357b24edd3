using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>Parameters of the grid capture.</summary>
/// <param name="Columns">Places along X, 3 to 200; not used when a spacing is given.</param>
/// <param name="Rows">Places along Y, 3 to 200; likewise.</param>
/// <param name="SpacingMm">Largest distance between neighbouring places, mm, 1 to 200; 0 when columns and rows say it.</param>
/// <param name="Area">Rectangle of the bed to capture; null for all that the probe can reach. It is cut to what can be reached.</param>
/// <param name="Rule">How each place is touched.</param>
internal sealed record GridParameters(int Columns, int Rows, double SpacingMm, BedRectangle? Area, CaptureRule Rule)
{
    private const int MostSide = 200;
    private const double LargestMm = 2000;

    /// <summary>Keys: columns, rows, spacing_mm, area_mm = [min x, min y, max x, max y], and those of <see cref="CaptureRule.Read"/>.</summary>
    public static GridParameters Read(TomlSection section) => new(
        section.Whole("columns", 3, MostSide, 6),
        section.Whole("rows", 3, MostSide, 6),
        SpacingOf(section),
        AreaOf(section),
        CaptureRule.Read(section, touches: 2, referenceEvery: 12));

    /// <summary>The rectangle <c>area_mm</c>; null when it is missing.</summary>
    public static BedRectangle? AreaOf(TomlSection section)
    {
        ImmutableArray<double> area = section.Numbers("area_mm", "min x, min y, max x, max y", 4, 0, LargestMm, ImmutableArray<double>.Empty);
        if (area.Length != 4)
        {
            return null;
        }

        var rectangle = new BedRectangle(area[0], area[1], area[2], area[3]);
        if (section.IsSound && rectangle.IsEmpty)
        {
            section.Refuse("area_mm", "the rectangle has no area", "min x below max x, min y below max y");
        }

        return rectangle;
    }

    private static double SpacingOf(TomlSection section) => section.Has("spacing_mm") ? section.Number("spacing_mm", 1, 200) : section.Number("spacing_mm", 0, 200, 0);
}
