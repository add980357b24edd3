namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>
/// Fine points in a rectangle of cells: two by four to a cell as braille dots, or, in ASCII, one to a cell. Points are collected first and
/// drawn at once; each cell takes the ink of its last point.
/// </summary>
internal sealed class Plot
{
    private static readonly int[,] Bits = { { 0x01, 0x08 }, { 0x02, 0x10 }, { 0x04, 0x20 }, { 0x40, 0x80 } };
    private readonly CellCanvas canvas;
    private readonly int[] dots;
    private readonly Ink[] inks;

    /// <summary>An empty plot on a part of a canvas.</summary>
    public Plot(CellCanvas canvas)
    {
        this.canvas = canvas;
        dots = new int[canvas.Columns * canvas.Rows];
        inks = new Ink[dots.Length];
    }

    /// <summary>Points across.</summary>
    public int Width => canvas.Columns * 2;

    /// <summary>Points down.</summary>
    public int Height => canvas.Rows * 4;

    /// <summary>Marks a point, counted from the upper left; one outside is left out.</summary>
    public void Dot(double x, double y, Ink ink)
    {
        if (!(x >= 0 && x < Width && y >= 0 && y < Height))
        {
            return;
        }

        (int column, int row) = ((int)x / 2, (int)y / 4);
        dots[(row * canvas.Columns) + column] |= Bits[(int)y % 4, (int)x % 2];
        inks[(row * canvas.Columns) + column] = ink;
    }

    /// <summary>Marks a straight line.</summary>
    public void Line(double fromX, double fromY, double toX, double toY, Ink ink)
    {
        double longest = Math.Max(Math.Abs(toX - fromX), Math.Abs(toY - fromY));
        int steps = (int)Math.Clamp(double.IsFinite(longest) ? longest : 0, 1, 4 * (Width + Height + 1));
        for (int step = 0; step <= steps; step++)
        {
            double part = step / (double)steps;
            Dot(fromX + ((toX - fromX) * part), fromY + ((toY - fromY) * part), ink);
        }
    }

    /// <summary>Draws what was marked.</summary>
    public void Draw()
    {
        for (int row = 0; row < canvas.Rows; row++)
        {
            for (int column = 0; column < canvas.Columns; column++)
            {
                int bits = dots[(row * canvas.Columns) + column];
                if (bits != 0)
                {
                    canvas.Put(column, row, canvas.IsAscii ? Ascii(bits) : ((char)(0x2800 + bits)).ToString(), inks[(row * canvas.Columns) + column]);
                }
            }
        }
    }

    private static string Ascii(int bits) => (bits & ~0x09) == 0 ? "'" : (bits & ~0xE4) == 0 ? "." : "*";
}
