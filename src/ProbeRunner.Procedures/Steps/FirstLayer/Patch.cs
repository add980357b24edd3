using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Procedures.Steps.FirstLayer;

/// <summary>A patch: lines side by side, to and fro.</summary>
/// <param name="Centre">Its middle.</param>
/// <param name="HeightMm">Height at which it is laid.</param>
/// <param name="Start">Where its first line begins.</param>
/// <param name="Lines">In the order they are laid.</param>
internal sealed record Patch(BedPoint Centre, double HeightMm, BedPoint Start, ImmutableArray<LaidLine> Lines)
{
    /// <summary>A square patch.</summary>
    /// <param name="sideMm">Its side; rounded down to whole line widths.</param>
    public static Patch Square(BedPoint centre, double heightMm, double sideMm, Extrusion extrusion)
    {
        int count = (int)(sideMm / extrusion.LineWidthMm);
        double half = sideMm / 2, first = centre.Y - ((count - 1) * extrusion.LineWidthMm / 2);
        var lines = ImmutableArray.CreateBuilder<LaidLine>(2 * count);
        for (int index = 0; index < count; index++)
        {
            double y = first + (index * extrusion.LineWidthMm);
            bool isRightwards = index % 2 == 0;
            if (index > 0)
            {
                lines.Add(new LaidLine(new BedPoint(isRightwards ? centre.X - half : centre.X + half, y), extrusion.FilamentFor(extrusion.LineWidthMm)));
            }

            lines.Add(new LaidLine(new BedPoint(isRightwards ? centre.X + half : centre.X - half, y), extrusion.FilamentFor(sideMm)));
        }

        return new Patch(centre, heightMm, new BedPoint(centre.X - half, first), lines.ToImmutable());
    }
}
