using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Console.Screens.Pictures.Bed;

/// <summary>
/// Readings gathered over the bed, for a picture that grows: a raster of fixed size, so that a night's readings take no more room than an
/// hour's. Immutable; adding one reading copies one row.
/// </summary>
internal sealed class ReadingRaster
{
    /// <summary>Fields along each side.</summary>
    public const int Side = 96;

    private readonly double widthMm;
    private readonly double depthMm;
    private readonly Tally[]?[] rows;

    private ReadingRaster(double widthMm, double depthMm, Tally[]?[] rows, int count, double mean, BedPoint? last)
    {
        (this.widthMm, this.depthMm, this.rows) = (widthMm, depthMm, rows);
        (Count, MeanMm, Last) = (count, mean, last);
    }

    private readonly record struct Tally(int Count, double Sum);

    /// <summary>How many readings were added.</summary>
    public int Count { get; }

    /// <summary>Mean of all readings, mm; 0 for none.</summary>
    public double MeanMm { get; }

    /// <summary>Where the last one was taken.</summary>
    public BedPoint? Last { get; }

    /// <summary>No readings on a plate.</summary>
    public static ReadingRaster Over(double widthMm, double depthMm) => new(widthMm, depthMm, new Tally[]?[Side], 0, 0, null);

    /// <summary>One reading more; one off the plate or not finite changes nothing.</summary>
    public ReadingRaster With(BedPoint place, double heightMm)
    {
        if (!double.IsFinite(heightMm) || FieldOf(place) is not { } field)
        {
            return this;
        }

        Tally[]?[] changed = [.. rows];
        Tally[] row = changed[field.Row] is { } existing ? [.. existing] : new Tally[Side];
        row[field.Column] = new Tally(row[field.Column].Count + 1, row[field.Column].Sum + heightMm);
        changed[field.Row] = row;
        return new ReadingRaster(widthMm, depthMm, changed, Count + 1, MeanMm + ((heightMm - MeanMm) / (Count + 1)), place);
    }

    /// <summary>Means of the fields that have readings, with the place in the field's middle.</summary>
    public IEnumerable<(BedPoint Place, double HeightMm)> Means()
    {
        for (int row = 0; row < Side; row++)
        {
            for (int column = 0; rows[row] is { } tallies && column < Side; column++)
            {
                if (tallies[column] is { Count: > 0 } tally)
                {
                    yield return (new BedPoint((column + 0.5) / Side * widthMm, (row + 0.5) / Side * depthMm), tally.Sum / tally.Count);
                }
            }
        }
    }

    /// <summary>The mean of the field nearest to a place; null when there are no readings.</summary>
    public (BedPoint Place, double HeightMm)? Nearest(BedPoint place)
    {
        (BedPoint Place, double HeightMm)? nearest = null;
        foreach ((BedPoint Place, double HeightMm) mean in Means())
        {
            nearest = nearest is { } best && best.Place.DistanceTo(place) <= mean.Place.DistanceTo(place) ? nearest : mean;
        }

        return nearest;
    }

    private (int Column, int Row)? FieldOf(BedPoint place)
    {
        (double column, double row) = (place.X / widthMm * Side, place.Y / depthMm * Side);
        return column >= 0 && column <= Side && row >= 0 && row <= Side ? (Math.Min((int)column, Side - 1), Math.Min((int)row, Side - 1)) : null;
    }
}
