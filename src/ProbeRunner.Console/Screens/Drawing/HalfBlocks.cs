namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>Coloured fields, two above each other in a cell; where there are no colours, one character a cell.</summary>
internal static class HalfBlocks
{
    /// <summary>Fields down in a number of rows.</summary>
    public static int FieldsIn(int rows, Palette palette) => CanSplit(palette) ? 2 * rows : rows;

    /// <summary>Whether a cell shows two fields.</summary>
    public static bool CanSplit(Palette palette) => palette.Depth != ColourDepth.Monochrome && !palette.IsAscii;

    /// <summary>Paints a whole canvas from a value for each field; NaN leaves the plate's ground.</summary>
    /// <param name="value">Value of the field at a column and a field row, counted from the upper left.</param>
    public static void Paint(CellCanvas canvas, Ramp ramp, Palette palette, Func<int, int, double> value)
    {
        for (int row = 0; row < canvas.Rows; row++)
        {
            for (int column = 0; column < canvas.Columns; column++)
            {
                if (CanSplit(palette))
                {
                    canvas.Put(column, row, "▀", new Ink(ColourOf(value(column, 2 * row), ramp, palette), ColourOf(value(column, (2 * row) + 1), ramp, palette)));
                    continue;
                }

                double single = value(column, row);
                canvas.Put(column, row, Character(single, ramp, palette), double.IsNaN(single) || palette.Depth == ColourDepth.Monochrome
                    ? new Ink(Role.Text, Role.Ground)
                    : new Ink(ramp.TextOn(single, palette), ramp.Of(single, palette)));
            }
        }
    }

    private static Colour ColourOf(double value, Ramp ramp, Palette palette) => double.IsNaN(value) ? Role.Plate : ramp.Of(value, palette);

    private static string Character(double value, Ramp ramp, Palette palette) =>
        double.IsNaN(value) || palette.Depth != ColourDepth.Monochrome ? " " : ramp.Density(value);
}
