namespace ProbeRunner.Records.Pictures;

/// <summary>Contour lines on an even lattice, by marching squares with linear interpolation along the cell edges.</summary>
internal static class ContourLines
{
    /// <summary>The pieces of the line at one level, in lattice units (column, row).</summary>
    /// <param name="heights">Row-major, front row first.</param>
    /// <param name="columns">Nodes along X.</param>
    /// <param name="rows">Nodes along Y.</param>
    /// <param name="level">The height of the line.</param>
    public static IEnumerable<((double Column, double Row) From, (double Column, double Row) To)> At(
        IReadOnlyList<double> heights, int columns, int rows, double level)
    {
        for (int row = 0; row + 1 < rows; row++)
        {
            for (int column = 0; column + 1 < columns; column++)
            {
                double frontLeft = heights[(row * columns) + column] - level;
                double frontRight = heights[(row * columns) + column + 1] - level;
                double backLeft = heights[((row + 1) * columns) + column] - level;
                double backRight = heights[((row + 1) * columns) + column + 1] - level;
                List<(double, double)> crossings = [];
                AddCrossing(crossings, frontLeft, frontRight, part => (column + part, row));
                AddCrossing(crossings, frontRight, backRight, part => (column + 1, row + part));
                AddCrossing(crossings, backLeft, backRight, part => (column + part, row + 1));
                AddCrossing(crossings, frontLeft, backLeft, part => (column, row + part));

                // A saddle has four crossings; the mean of the corners says which pairs belong together.
                if (crossings.Count == 4 && (frontLeft + frontRight + backLeft + backRight > 0) == (frontLeft > 0))
                {
                    yield return (crossings[0], crossings[1]);
                    yield return (crossings[2], crossings[3]);
                }
                else if (crossings.Count == 4)
                {
                    yield return (crossings[3], crossings[0]);
                    yield return (crossings[1], crossings[2]);
                }
                else if (crossings.Count == 2)
                {
                    yield return (crossings[0], crossings[1]);
                }
            }
        }
    }

    private static void AddCrossing(List<(double, double)> crossings, double from, double to, Func<double, (double, double)> at)
    {
        if ((from > 0) != (to > 0))
        {
            crossings.Add(at(from / (from - to)));
        }
    }
}
