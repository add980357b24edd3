using System.Collections.Immutable;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>The findings ranked by what they do to the first layer, each with a bar; the selected one opens to its evidence and what to do.</summary>
internal static class ConclusionsPicture
{
    private const int FigureColumns = 11;

    /// <summary>Draws on the whole canvas.</summary>
    public static void Draw(CellCanvas canvas, ConclusionsState state, Palette palette)
    {
        ImmutableArray<Finding> ranked = state.Ranked;
        if (ranked.Length == 0)
        {
            canvas.Write(0, 0, CellText.Fit("✓ Nothing found that would harm a first layer.", canvas.Columns), Ink.Bold(Role.Good));
            return;
        }

        int selected = Math.Clamp(state.Selected, 0, ranked.Length - 1);
        canvas.Write(0, 0, CellText.Fit($"{ranked.Length} {(ranked.Length == 1 ? "finding" : "findings")}, largest effect on the first layer first", canvas.Columns), Role.Axis);
        int[] heights = Heights(ranked, state, selected, canvas.Columns);
        int first = FirstShown(heights, selected, canvas.Rows - 1);
        int row = 1;
        double largest = ranked.Max(finding => Math.Abs(finding.EffectMm ?? 0));
        for (int index = first; index < ranked.Length && row < canvas.Rows; index++)
        {
            DrawLine(canvas, row, ranked[index], largest, index == selected);
            if (state.IsOpen && index == selected)
            {
                DrawDetails(canvas, row + 1, ranked[index]);
            }

            row += heights[index];
        }

        if (first > 0 && canvas.Columns > 20)
        {
            canvas.WriteLeftOf(canvas.Columns, 0, $"▲ {first} more", Role.Axis);
        }
    }

    /// <summary>Which of the ranked findings is shown at a row of an area; null for none.</summary>
    public static int? FindingAt(Rect area, ConclusionsState state, int row)
    {
        ImmutableArray<Finding> ranked = state.Ranked;
        int selected = Math.Clamp(state.Selected, 0, Math.Max(0, ranked.Length - 1));
        int[] heights = Heights(ranked, state, selected, area.Columns);
        int at = area.Top + 1;
        for (int index = ranked.IsEmpty ? 0 : FirstShown(heights, selected, area.Rows - 1); index < ranked.Length; at += heights[index++])
        {
            if (row >= at && row < at + heights[index])
            {
                return index;
            }
        }

        return null;
    }

    private static int[] Heights(ImmutableArray<Finding> ranked, ConclusionsState state, int selected, int columns) =>
        [.. ranked.Select((finding, index) => 1 + (state.IsOpen && index == selected ? Details(finding, columns - 4).Count : 0))];

    private static void DrawLine(CellCanvas canvas, int row, Finding finding, double largest, bool isSelected)
    {
        Ink ink = isSelected ? Ink.Selected : Role.Text;
        if (isSelected)
        {
            canvas.Fill(new Rect(0, row, canvas.Columns, 1), ink);
        }

        canvas.Put(0, row, isSelected ? "▶" : " ", ink);
        int bars = canvas.Columns >= 60 ? 12 : 0;
        string figure = finding.EffectMm is { } mm ? $"{Numbers.Plain(Math.Abs(mm))} mm" : string.Empty;
        canvas.Write(2, row, CellText.PadLeft(figure, FigureColumns - 2), isSelected ? ink : Ink.Bold(Role.Accent));
        if (bars > 0 && largest > 0)
        {
            Bars.Level(canvas, FigureColumns + 1, row, bars, Math.Abs(finding.EffectMm ?? 0) / largest, isSelected ? ink : Role.Warning);
        }

        int text = largest > 0 ? FigureColumns + 1 + bars + (bars > 0 ? 1 : 0) : 2;
        string sure = canvas.Columns >= 76 ? $"{Numbers.Percent(finding.Confidence)} sure" : string.Empty;
        canvas.Write(text, row, CellText.Fit(isSelected || finding.Where.Length == 0 ? finding.Title : $"{finding.Title} ({finding.Where})", canvas.Columns - text - sure.Length - 1), ink);
        canvas.WriteLeftOf(canvas.Columns, row, sure, isSelected ? ink : Role.Quiet);
    }

    private static void DrawDetails(CellCanvas canvas, int row, Finding finding)
    {
        foreach ((string line, Role role) in Details(finding, canvas.Columns - 4))
        {
            canvas.Write(4, row++, line, role);
        }
    }

    private static List<(string Line, Role Role)> Details(Finding finding, int columns)
    {
        string where = finding.Where.Length > 0 ? $"Where: {finding.Where}. " : string.Empty;
        return
        [
            .. CellText.Wrap($"{where}{Numbers.Percent(finding.Confidence)} sure.", columns).Select(line => (line, Role.Quiet)),
            .. CellText.Wrap($"Evidence: {finding.Evidence}", columns).Select(line => (line, Role.Text)),
            .. CellText.Wrap($"Next: {finding.Next}", columns).Select(line => (line, Role.Accent)),
            (string.Empty, Role.Text),
        ];
    }

    /// <summary>The first line shown so that the selected one with its details is in sight.</summary>
    private static int FirstShown(int[] heights, int selected, int rows)
    {
        int first = selected;
        int used = heights[selected];
        while (first > 0 && used + heights[first - 1] <= rows)
        {
            used += heights[--first];
        }

        return first;
    }
}
