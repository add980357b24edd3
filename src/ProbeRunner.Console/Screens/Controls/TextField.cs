using System.Globalization;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;
using ProbeRunner.Transport.Framing;

namespace ProbeRunner.Console.Screens.Controls;

/// <summary>One line of text being typed.</summary>
/// <param name="text">What stands in it at first.</param>
/// <param name="longest">The most characters it takes.</param>
internal sealed class TextField(string text = "", int longest = 200)
{
    private readonly List<string> graphemes = [.. Split(text)];
    private int caret = int.MaxValue;

    /// <summary>What stands in it.</summary>
    public string Text => string.Concat(graphemes);

    /// <summary>Puts a text in place of what is there.</summary>
    public void Set(string text)
    {
        graphemes.Clear();
        graphemes.AddRange(Split(text));
        caret = graphemes.Count;
    }

    /// <summary>Takes a stroke.</summary>
    /// <returns>Whether it was one for a field.</returns>
    public bool Type(Stroke stroke)
    {
        caret = Math.Clamp(caret, 0, graphemes.Count);
        switch (stroke.Name)
        {
            case "left":
                caret = Math.Max(0, caret - 1);
                return true;
            case "right":
                caret = Math.Min(graphemes.Count, caret + 1);
                return true;
            case "home":
                caret = 0;
                return true;
            case "end":
                caret = graphemes.Count;
                return true;
            case "backspace" when caret > 0:
                graphemes.RemoveAt(--caret);
                return true;
            case "delete" when caret < graphemes.Count:
                graphemes.RemoveAt(caret);
                return true;
            case "backspace" or "delete":
                return true;
            case "ctrl-u":
                Set(string.Empty);
                return true;
            default:
                return stroke.IsText && Insert(stroke.Name);
        }
    }

    /// <summary>Inserts a text, its line ends as spaces.</summary>
    public bool Insert(string added)
    {
        caret = Math.Clamp(caret, 0, graphemes.Count);
        foreach (var grapheme in Split(added.ReplaceLineEndings(" ")).Take(longest - graphemes.Count))
        {
            graphemes.Insert(caret++, grapheme);
        }

        return true;
    }

    /// <summary>Draws it with its caret; the end that matters stays in sight.</summary>
    public void Draw(CellCanvas canvas, Rect area, bool hasFocus)
    {
        caret = Math.Clamp(caret, 0, graphemes.Count);
        var ink = new Ink(Role.Text, Role.Raised);
        canvas.Fill(area, ink);
        var first = Math.Max(0, caret - area.Columns + 1);
        var column = area.Left;
        for (var at = first; at <= graphemes.Count && column < area.Right; at++)
        {
            var grapheme = at < graphemes.Count ? graphemes[at] : " ";
            canvas.Write(column, area.Top, grapheme, hasFocus && at == caret ? Ink.Selected : ink);
            column += Math.Max(1, CellText.Cells(grapheme));
        }
    }

    private static IEnumerable<string> Split(string text)
    {
        var elements = StringInfo.GetTextElementEnumerator(WireText.Printable(text));
        while (elements.MoveNext())
        {
            yield return elements.GetTextElement();
        }
    }
}
