namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>Bars of block characters, in eighths of a cell.</summary>
internal static class Bars
{
    private const string Rightwards = "▏▎▍▌▋▊▉█";
    private const string Upwards = "▁▂▃▄▅▆▇█";

    /// <summary>A level bar from the left; any share above nothing shows at least the thinnest.</summary>
    /// <param name="share">0 to 1 of the columns.</param>
    public static void Level(CellCanvas canvas, int column, int row, int columns, double share, Ink ink)
    {
        int eighths = Eighths(share, columns);
        for (int cell = 0; cell < columns && eighths > 0; cell++, eighths -= 8)
        {
            canvas.Put(column + cell, row, canvas.IsAscii ? (eighths >= 4 ? "#" : "-") : Rightwards[Math.Min(eighths, 8) - 1].ToString(), ink);
        }
    }

    /// <summary>An upright bar from a bottom row upwards.</summary>
    /// <param name="share">0 to 1 of the rows.</param>
    public static void Upright(CellCanvas canvas, int column, int bottomRow, int rows, double share, Ink ink)
    {
        int eighths = Eighths(share, rows);
        for (int cell = 0; cell < rows && eighths > 0; cell++, eighths -= 8)
        {
            canvas.Put(column, bottomRow - cell, canvas.IsAscii ? (eighths >= 4 ? "#" : "_") : Upwards[Math.Min(eighths, 8) - 1].ToString(), ink);
        }
    }

    private static int Eighths(double share, int cells)
    {
        double clamped = double.IsNaN(share) ? 0 : Math.Clamp(share, 0, 1);
        return clamped > 0 ? Math.Max(1, (int)Math.Round(clamped * cells * 8)) : 0;
    }
}
