using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures.Charts;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>Readings in order within limits, how they are distributed, and how near the verdict is.</summary>
internal static class SeriesPicture
{
    private const int HistogramColumns = 14;
    private const int RoomFor = 10;

    /// <summary>Draws on the whole canvas.</summary>
    public static void Draw(CellCanvas canvas, SeriesState state, Palette palette)
    {
        double[] heights = state.HeightsMm.IsDefault ? [] : [.. state.HeightsMm.Where(double.IsFinite)];
        (Rect head, Rect rest) = canvas.Area.CutTop(1);
        (Rect chart, Rect foot) = rest.CutBottom(rest.Rows >= 8 && state.SoFar is not null ? 4 : rest.Rows >= 4 ? 1 : 0);
        canvas.Write(head.Left, head.Top, CellText.Fit(Head(heights, state.SoFar), head.Columns), Ink.Bold(Role.Text));
        if (heights.Length > 0)
        {
            DrawReadings(canvas, chart, heights, state.SoFar);
        }
        else
        {
            canvas.WriteCentred(chart, chart.Top + (chart.Rows / 2), "The first touch is on its way.", Role.Quiet);
        }

        if (state.SoFar is { } soFar)
        {
            DrawJudgement(canvas, foot, soFar);
        }
    }

    private static string Head(double[] heights, SeriesSoFar? soFar) => heights.Length switch
    {
        0 => "No reading yet",
        1 => $"1 reading at {Numbers.Signed(heights[0], 4).Trim()} mm",
        _ when soFar is { SigmaMm: > 0 } => $"{heights.Length} readings, mean {Numbers.Signed(heights.Average(), 4).Trim()} mm, scatter {Numbers.Plain(soFar.SigmaMm, 4)} mm",
        _ => $"{heights.Length} readings, mean {Numbers.Signed(heights.Average(), 4).Trim()} mm",
    };

    private static void DrawReadings(CellCanvas canvas, Rect area, double[] heights, SeriesSoFar? soFar)
    {
        double middle = Median(heights);
        double good = soFar?.GoodSigmaMm ?? 0.005;
        Scale scale = Scale.Holding(heights.Select(height => height - middle), 5 * good);
        Rect curve = ValueAxis.DrawLeft(canvas, area, scale, isSigned: true);
        (curve, Rect histogram) = curve.CutRight(curve.Columns >= 40 ? HistogramColumns : 0);
        foreach (int side in (ReadOnlySpan<int>)[-2, 0, 2])
        {
            int row = ValueAxis.RowOf(side * good, scale, curve);
            if (row >= curve.Top && row < curve.Bottom)
            {
                canvas.Fill(new Rect(curve.Left, row, curve.Columns, 1), Role.Frame, side == 0 ? "─" : "╌");
            }
        }

        double[] shown = heights.Length > curve.Columns ? heights[^Math.Max(1, curve.Columns)..] : heights;
        int apart = Math.Clamp(curve.Columns / Math.Max(RoomFor, shown.Length), 1, 4);
        for (int index = 0; index < shown.Length; index++)
        {
            int row = ValueAxis.RowOf(shown[index] - middle, scale, curve);
            int column = curve.Left + (index * apart) + (apart / 2);
            bool isLast = index == shown.Length - 1;
            if (curve.Contains(column, row))
            {
                canvas.Put(column, row, isLast ? "◆" : "●", isLast ? Ink.Bold(Role.Accent) : Role.Text);
            }
        }

        DrawHistogram(canvas, histogram, heights, middle, scale);
    }

    private static void DrawHistogram(CellCanvas canvas, Rect area, double[] heights, double middle, Scale scale)
    {
        if (area.Columns < 4)
        {
            return;
        }

        var counts = new int[Math.Max(1, area.Rows)];
        foreach (double height in heights)
        {
            counts[Math.Clamp(scale.CellOf(height - middle, counts.Length), 0, counts.Length - 1)]++;
        }

        for (int cell = 0; cell < counts.Length; cell++)
        {
            Bars.Level(canvas, area.Left + 2, area.Bottom - 1 - cell, area.Columns - 2, (double)counts[cell] / Math.Max(3, counts.Max()), Role.Quiet);
        }

        canvas.Fill(new Rect(area.Left + 1, area.Top, 1, area.Rows), Role.Frame, "│");
    }

    private static void DrawJudgement(CellCanvas canvas, Rect foot, SeriesSoFar soFar)
    {
        VerdictWord word = soFar.Verdict.State;
        string says = word == VerdictWord.Undecided
            ? $"? not sure yet: about {soFar.StillNeeded} more {(soFar.StillNeeded == 1 ? "reading" : "readings")}"
            : $"{VerdictWords.Sign(word)} {VerdictWords.Of(word)}, {Numbers.Percent(soFar.Verdict.Confidence)} sure";
        if (foot.Rows > 0)
        {
            canvas.Write(foot.Left, foot.Bottom - 1, CellText.Fit(says, foot.Columns), Ink.Bold(VerdictWords.RoleOf(word)));
        }

        if (foot.Rows < 4 || foot.Columns < 24)
        {
            return;
        }

        const string Name = "scatter ";
        var line = new Rect(foot.Left + Name.Length, foot.Top + 1, foot.Columns - Name.Length, 1);
        var scale = new Scale(0, Math.Max(1.6 * soFar.BadSigmaMm, Math.Min(soFar.UpperMm, 3 * soFar.BadSigmaMm)));
        canvas.Write(foot.Left, line.Top, Name, Role.Axis);
        canvas.Fill(line, Role.Frame, "·");
        DrawLimit(canvas, line, scale, soFar.GoodSigmaMm, "fit ≤ ", Role.Good);
        DrawLimit(canvas, line, scale, soFar.BadSigmaMm, "not fit ≥ ", Role.Bad);
        if (soFar.SigmaMm > 0)
        {
            IntervalBar.Draw(canvas, line, scale, soFar.LowerMm, soFar.SigmaMm, soFar.UpperMm, Ink.Bold(Role.Accent));
        }
    }

    private static void DrawLimit(CellCanvas canvas, Rect line, Scale scale, double limit, string word, Role role)
    {
        int column = line.Left + scale.CellOf(limit, line.Columns);
        string text = $"{word}{Numbers.Plain(limit, 3)}";
        canvas.Put(column, line.Top, "┃", role);
        if (word.StartsWith("fit", StringComparison.Ordinal))
        {
            canvas.WriteLeftOf(column + 1, line.Top + 1, text, role);
            return;
        }

        canvas.Write(Math.Min(column, line.Right - text.Length), line.Top + 1, text, role);
    }

    private static double Median(double[] heights)
    {
        double[] sorted = [.. heights.Order()];
        return sorted.Length % 2 == 1 ? sorted[sorted.Length / 2] : (sorted[(sorted.Length / 2) - 1] + sorted[sorted.Length / 2]) / 2;
    }
}
