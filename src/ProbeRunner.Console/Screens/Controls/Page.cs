using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Screens.Controls;

/// <summary>Text laid out in lines of one width, to be scrolled.</summary>
/// <param name="columns">The width.</param>
internal sealed class Page(int columns)
{
    private const int HangAt = 16;
    private readonly List<List<(int Column, string Text, Ink Ink)>> lines = [];

    /// <summary>How many lines there are.</summary>
    public int Rows => lines.Count;

    /// <summary>Adds an empty line.</summary>
    public void Gap() => lines.Add([]);

    /// <summary>Adds one line, cut to the width.</summary>
    public void Line(string text, Ink ink, int indent = 0) => lines.Add([(indent, CellText.Fit(text, columns - indent), ink)]);

    /// <summary>Adds text broken into lines, an empty one between paragraphs.</summary>
    public void Paragraphs(string text, Ink ink, int indent = 0)
    {
        var isFirst = true;
        foreach (var paragraph in text.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            if (!isFirst)
            {
                Gap();
            }

            isFirst = false;
            foreach (var line in CellText.Wrap(paragraph, columns - indent))
            {
                Line(line, ink, indent);
            }
        }
    }

    /// <summary>Adds a term in front with its meaning hanging beside it.</summary>
    public void Entry(string term, string meaning, Ink? termInk = null, Ink? meaningInk = null)
    {
        var hang = Math.Max(HangAt, CellText.Cells(term) + 2);
        var wrapped = CellText.Wrap(meaning, columns - hang);
        lines.Add([(0, term, termInk ?? Ink.Bold(Role.Key)), (hang, wrapped.Count > 0 ? wrapped[0] : string.Empty, meaningInk ?? Role.Text)]);
        foreach (var line in wrapped.Skip(1))
        {
            Line(line, meaningInk ?? Role.Text, hang);
        }
    }

    /// <summary>Draws what is in sight, and how much more there is.</summary>
    public void Draw(CellCanvas canvas, Rect area, ScrollPosition scroll)
    {
        scroll.Keep(lines.Count, area.Rows);
        var isCut = lines.Count - scroll.Top > area.Rows && area.Rows > 2;
        var shown = isCut ? area.Rows - 1 : area.Rows;
        for (var row = 0; row < shown && scroll.Top + row < lines.Count; row++)
        {
            foreach (var (column, text, ink) in lines[scroll.Top + row])
            {
                canvas.Write(area.Left + column, area.Top + row, text, ink);
            }
        }

        var below = lines.Count - scroll.Top - shown;
        if (below > 0)
        {
            canvas.WriteLeftOf(area.Right, area.Bottom - 1, FormattableString.Invariant($" ↓ {below} more "), new Ink(Role.Accent, Role.Raised));
        }
    }
}
