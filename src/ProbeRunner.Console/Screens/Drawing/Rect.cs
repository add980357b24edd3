namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>A rectangle of cells; empty when it has no columns or no rows.</summary>
/// <param name="Left">First column.</param>
/// <param name="Top">First row.</param>
/// <param name="Columns">Width in cells; what is below 0 counts as 0.</param>
/// <param name="Rows">Height in cells; what is below 0 counts as 0.</param>
internal readonly record struct Rect(int Left, int Top, int Columns, int Rows)
{
    /// <summary>Width in cells, at least 0.</summary>
    public int Columns { get; init => field = Math.Max(0, value); } = Math.Max(0, Columns);

    /// <summary>Height in cells, at least 0.</summary>
    public int Rows { get; init => field = Math.Max(0, value); } = Math.Max(0, Rows);

    /// <summary>The column after the last.</summary>
    public int Right => Left + Columns;

    /// <summary>The row after the last.</summary>
    public int Bottom => Top + Rows;

    /// <summary>Whether there is no cell in it.</summary>
    public bool IsEmpty => Columns == 0 || Rows == 0;

    /// <summary>Whether a cell lies in it.</summary>
    public bool Contains(int column, int row) => column >= Left && column < Right && row >= Top && row < Bottom;

    /// <summary>The part shared with another.</summary>
    public Rect Intersect(Rect other)
    {
        int left = Math.Max(Left, other.Left);
        int top = Math.Max(Top, other.Top);
        return new Rect(left, top, Math.Min(Right, other.Right) - left, Math.Min(Bottom, other.Bottom) - top);
    }

    /// <summary>The same with every edge moved inwards.</summary>
    public Rect Inset(int columns, int rows) => new(Left + columns, Top + rows, Columns - (2 * columns), Rows - (2 * rows));

    /// <summary>Cuts rows off the top: those, and the rest.</summary>
    public (Rect Top, Rect Remainder) CutTop(int rows)
    {
        int cut = Math.Clamp(rows, 0, Rows);
        return (new Rect(Left, Top, Columns, cut), new Rect(Left, Top + cut, Columns, Rows - cut));
    }

    /// <summary>Cuts rows off the bottom: the rest, and those.</summary>
    public (Rect Remainder, Rect Bottom) CutBottom(int rows) => CutTop(Rows - Math.Clamp(rows, 0, Rows));

    /// <summary>Cuts columns off the left: those, and the rest.</summary>
    public (Rect Left, Rect Remainder) CutLeft(int columns)
    {
        int cut = Math.Clamp(columns, 0, Columns);
        return (new Rect(Left, Top, cut, Rows), new Rect(Left + cut, Top, Columns - cut, Rows));
    }

    /// <summary>Cuts columns off the right: the rest, and those.</summary>
    public (Rect Remainder, Rect Right) CutRight(int columns) => CutLeft(Columns - Math.Clamp(columns, 0, Columns));
}
