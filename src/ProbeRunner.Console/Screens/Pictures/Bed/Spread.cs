using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Console.Screens.Pictures.Bed;

/// <summary>
/// Single readings as patches of colour: each colours the fields nearer to it than to another reading, but only as far as half of the usual
/// distance between readings. Nothing is made up in between.
/// </summary>
internal static class Spread
{
    /// <summary>Values of all fields of a plate, NaN where no reading is near.</summary>
    public static double[,] Of(IReadOnlyList<(BedPoint Place, double Value)> readings, BedFrame frame, int fields)
    {
        int columns = frame.Cells.Columns;
        var values = new double[columns, fields];
        var counts = new int[columns, fields];
        foreach ((BedPoint place, double value) in readings)
        {
            int column = Math.Clamp((int)(place.X / frame.WidthMm * columns), 0, Math.Max(0, columns - 1));
            int field = Math.Clamp(fields - 1 - (int)(place.Y / frame.DepthMm * fields), 0, Math.Max(0, fields - 1));
            if (columns > 0 && fields > 0)
            {
                values[column, field] += value;
                counts[column, field]++;
            }
        }

        for (int round = Reach(readings.Count, columns, fields); round > 0; round--)
        {
            Grow(values, counts);
        }

        for (int column = 0; column < columns; column++)
        {
            for (int field = 0; field < fields; field++)
            {
                values[column, field] = counts[column, field] == 0 ? double.NaN : values[column, field] / counts[column, field];
            }
        }

        return values;
    }

    private static int Reach(int readings, int columns, int fields) => readings == 0
        ? 0
        : Math.Clamp((int)Math.Ceiling(Math.Sqrt((double)columns * fields / readings) / 2) - 1, 1, 3);

    private static void Grow(double[,] values, int[,] counts)
    {
        (int columns, int fields) = (counts.GetLength(0), counts.GetLength(1));
        var before = (int[,])counts.Clone();
        for (int column = 0; column < columns; column++)
        {
            for (int field = 0; field < fields; field++)
            {
                if (before[column, field] > 0)
                {
                    continue;
                }

                foreach ((int near, int beside) in (ReadOnlySpan<(int, int)>)[(column - 1, field), (column + 1, field), (column, field - 1), (column, field + 1)])
                {
                    if (near >= 0 && near < columns && beside >= 0 && beside < fields && before[near, beside] > 0)
                    {
                        values[column, field] += values[near, beside] / before[near, beside];
                        counts[column, field]++;
                    }
                }
            }
        }
    }
}
