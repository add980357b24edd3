using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Procedures.Steps.FirstLayer;

/// <summary>A patch: rows side by side, to and fro.</summary>
/// <param name="Centre">Its middle.</param>
/// <param name="HeightMm">Height at which it is laid.</param>
/// <param name="Start">Where its first row begins.</param>
/// <param name="Rows">In the order they are laid: each the short way over from the row before, then the row itself.</param>
internal sealed record Patch(BedPoint Centre, double HeightMm, BedPoint Start, ImmutableArray<ImmutableArray<LaidLine>> Rows)
{
    /// <summary>All lines in order.</summary>
    public IEnumerable<LaidLine> Lines => Rows.SelectMany(row => row);

    /// <summary>How many rows a patch has.</summary>
    public static int RowsOf(double sideMm, double lineWidthMm) => (int)(sideMm / lineWidthMm);

    /// <summary>A square patch.</summary>
    /// <param name="sideMm">Its side; rounded down to whole line widths.</param>
    public static Patch Square(BedPoint centre, double heightMm, double sideMm, Extrusion extrusion)
    {
        int count = RowsOf(sideMm, extrusion.LineWidthMm);
        double half = sideMm / 2, first = centre.Y - ((count - 1) * extrusion.LineWidthMm / 2);
        var rows = ImmutableArray.CreateBuilder<ImmutableArray<LaidLine>>(count);
        for (int index = 0; index < count; index++)
        {
            double y = first + (index * extrusion.LineWidthMm);
            (double from, double to) = index % 2 == 0 ? (centre.X - half, centre.X + half) : (centre.X + half, centre.X - half);
            var row = new LaidLine(new BedPoint(to, y), extrusion.FilamentFor(sideMm));
            rows.Add(index == 0 ? [row] : [new LaidLine(new BedPoint(from, y), extrusion.FilamentFor(extrusion.LineWidthMm)), row]);
        }

        return new Patch(centre, heightMm, new BedPoint(centre.X - half, first), rows.ToImmutable());
    }
}
