using System.Text;

namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>
/// A sheet of cells to draw on. What falls outside is not drawn, what could act on a terminal is shown as an escape, and with
/// <see cref="IsAscii"/> every character is folded to ASCII: so no picture has to look after any of that.
/// </summary>
internal sealed class CellCanvas
{
    private readonly Cell[] cells;
    private readonly int stride;
    private readonly int left;
    private readonly int top;

    /// <summary>A blank sheet.</summary>
    /// <param name="columns">Width, 0 or more.</param>
    /// <param name="rows">Height, 0 or more.</param>
    /// <param name="isAscii">Whether only ASCII may stand in a cell.</param>
    /// <exception cref="ArgumentOutOfRangeException">A size is negative.</exception>
    public CellCanvas(int columns, int rows, bool isAscii = false)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(columns);
        ArgumentOutOfRangeException.ThrowIfNegative(rows);
        (Columns, Rows, IsAscii) = (columns, rows, isAscii);
        cells = new Cell[columns * rows];
        stride = columns;
        Clear();
    }

    private CellCanvas(CellCanvas whole, Rect area)
    {
        (cells, stride, IsAscii) = (whole.cells, whole.stride, whole.IsAscii);
        (left, top) = (whole.left + area.Left, whole.top + area.Top);
        (Columns, Rows) = (area.Columns, area.Rows);
    }

    /// <summary>Width in cells.</summary>
    public int Columns { get; }

    /// <summary>Height in cells.</summary>
    public int Rows { get; }

    /// <summary>Whether only ASCII stands in the cells.</summary>
    public bool IsAscii { get; }

    /// <summary>All of it, from 0, 0.</summary>
    public Rect Area => new(0, 0, Columns, Rows);

    /// <summary>What stands in a cell.</summary>
    /// <exception cref="ArgumentOutOfRangeException">There is no such cell.</exception>
    public Cell this[int column, int row]
    {
        get
        {
            ArgumentOutOfRangeException.ThrowIfEqual(Area.Contains(column, row), false, nameof(column));
            return cells[At(column, row)];
        }
    }

    /// <summary>A part of the sheet with its own 0, 0: the same cells, and nothing outside them can be drawn on.</summary>
    public CellCanvas Part(Rect area) => new(this, area.Intersect(Area));

    /// <summary>Blanks everything.</summary>
    public void Clear()
    {
        for (int row = 0; row < Rows; row++)
        {
            cells.AsSpan(At(0, row), Columns).Fill(Cell.Blank);
        }
    }

    /// <summary>Fills an area with one grapheme of one cell.</summary>
    public void Fill(Rect area, Ink ink, string grapheme = " ")
    {
        Rect inside = area.Intersect(Area);
        for (int row = inside.Top; row < inside.Bottom; row++)
        {
            for (int column = inside.Left; column < inside.Right; column++)
            {
                Put(column, row, grapheme, ink);
            }
        }
    }

    /// <summary>Puts one grapheme into a cell; only the first of a longer text.</summary>
    public void Put(int column, int row, string grapheme, Ink ink)
    {
        if (grapheme.Length == 1 && grapheme[0] is >= ' ' and <= '~')
        {
            Place(column, row, grapheme, 1, ink);
            return;
        }

        foreach ((string first, int wide) in CellText.Graphemes(grapheme))
        {
            Place(column, row, first, wide, ink);
            return;
        }
    }

    /// <summary>Writes a text from a cell to the right; what does not fit is not written.</summary>
    /// <returns>The column after it.</returns>
    public int Write(int column, int row, string text, Ink ink)
    {
        foreach ((string grapheme, int wide) in CellText.Graphemes(text))
        {
            Place(column, row, grapheme, wide, ink);
            column += wide;
        }

        return column;
    }

    /// <summary>Writes a text that ends before a column.</summary>
    public void WriteLeftOf(int column, int row, string text, Ink ink) => Write(column - CellText.Cells(text), row, text, ink);

    /// <summary>Writes a text in the middle of a row's columns, cut to them.</summary>
    public void WriteCentred(Rect area, int row, string text, Ink ink)
    {
        string fitting = CellText.Fit(text, area.Columns);
        Write(area.Left + ((area.Columns - CellText.Cells(fitting)) / 2), row, fitting, ink);
    }

    /// <summary>The characters, one line a row, trailing spaces cut off.</summary>
    public string ToText()
    {
        var text = new StringBuilder((Columns + 1) * Rows);
        for (int row = 0; row < Rows; row++)
        {
            var line = new StringBuilder(Columns);
            for (int column = 0; column < Columns; column++)
            {
                line.Append(cells[At(column, row)].Grapheme);
            }

            text.Append(line.ToString().TrimEnd(' ')).Append('\n');
        }

        return text.ToString();
    }

    private void Place(int column, int row, string grapheme, int wide, Ink ink)
    {
        if (!Area.Contains(column, row))
        {
            return;
        }

        if (IsAscii && !CellText.IsPlain(grapheme))
        {
            grapheme = AsciiFold.Of(grapheme);
            for (int extra = 1; extra < wide; extra++)
            {
                Place(column + extra, row, " ", 1, ink);
            }

            wide = 1;
        }

        if (wide == 2 && column + 1 >= Columns)
        {
            (grapheme, wide) = (" ", 1);
        }

        Release(column, row);
        cells[At(column, row)] = new Cell(grapheme, Mixed(ink, column, row));
        if (wide == 2)
        {
            Release(column + 1, row);
            cells[At(column + 1, row)] = new Cell(string.Empty, Mixed(ink, column + 1, row));
        }
    }

    /// <summary>A wide grapheme of which one half is overwritten disappears whole.</summary>
    private void Release(int column, int row)
    {
        int at = At(column, row);
        if (cells[at].Grapheme.Length == 0 && left + column > 0)
        {
            cells[at - 1] = cells[at - 1] with { Grapheme = " " };
        }

        if (left + column + 1 < stride && cells[at + 1].Grapheme.Length == 0)
        {
            cells[at + 1] = cells[at + 1] with { Grapheme = " " };
        }
    }

    private Ink Mixed(Ink ink, int column, int row)
    {
        Ink before = cells[At(column, row)].Ink;
        return ink with
        {
            Text = ink.Text.Kind == ColourKind.Unchanged ? before.Text : ink.Text,
            Ground = ink.Ground.Kind == ColourKind.Unchanged ? before.Ground : ink.Ground,
        };
    }

    private int At(int column, int row) => ((top + row) * stride) + left + column;
}
