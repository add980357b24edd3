using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures.Charts;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>Each way of touching with its difference from the reference, its interval, its scatter and its time.</summary>
internal static class TouchTuningPicture
{
    /// <summary>Draws on the whole canvas.</summary>
    public static void Draw(CellCanvas canvas, TouchTuningState state, Palette palette)
    {
        TouchCandidate[] candidates = state.Candidates.IsDefault ? [] : [.. state.Candidates];
        canvas.Write(0, 0, CellText.Fit($"Touches against the slow reference, same within ± {Numbers.Plain(state.MarginMm)} mm", canvas.Columns), Ink.Bold(Role.Text));
        if (candidates.Length == 0)
        {
            canvas.WriteCentred(canvas.Area, canvas.Rows / 2, "The reference is being touched.", Role.Quiet);
            return;
        }

        bool hasNumbers = canvas.Columns >= 72;
        int names = Math.Clamp(candidates.Max(candidate => CellText.Cells(candidate.Name)) + 3, 8, Math.Max(8, canvas.Columns / 3));
        int numbers = hasNumbers ? 20 : 0;
        double reach = Math.Max(2 * state.MarginMm, Math.Min(6 * state.MarginMm, candidates.Max(candidate => Math.Max(Math.Abs(candidate.LowerMm), Math.Abs(candidate.UpperMm)))));
        var scale = new Scale(-reach, reach);
        var chart = new Rect(names, 2, canvas.Columns - names - numbers, Math.Min(canvas.Rows - 3, candidates.Length + 1));
        DrawMargins(canvas, chart, scale, state.MarginMm);
        if (hasNumbers)
        {
            canvas.Write(chart.Right + 1, 1, "scatter     s/touch", Role.Axis);
        }

        for (int index = 0; index < candidates.Length && index < chart.Rows; index++)
        {
            TouchCandidate candidate = candidates[index];
            int row = chart.Top + index;
            Role role = VerdictWords.RoleOf(candidate.Same);
            canvas.Write(0, row, VerdictWords.Sign(candidate.Same), Ink.Bold(role));
            canvas.Write(2, row, CellText.Fit(candidate.Name, names - 3), Role.Text);
            IntervalBar.Draw(canvas, new Rect(chart.Left, row, chart.Columns, 1).Intersect(canvas.Area), scale, candidate.LowerMm, candidate.DifferenceMm, candidate.UpperMm, Ink.Bold(role));
            if (hasNumbers)
            {
                canvas.Write(chart.Right + 1, row, $"{Numbers.Plain(candidate.SigmaMm, 4)} mm  {Numbers.Plain(candidate.SecondsPerTouch, 1),6}", Role.Text);
            }
        }

        ValueAxis.DrawBelow(canvas, chart, scale, "mm");
    }

    private static void DrawMargins(CellCanvas canvas, Rect chart, Scale scale, double margin)
    {
        if (chart.IsEmpty)
        {
            return;
        }

        foreach (int side in (ReadOnlySpan<int>)[-1, 0, 1])
        {
            canvas.Fill(new Rect(chart.Left + scale.CellOf(side * margin, chart.Columns), chart.Top, 1, chart.Rows), side == 0 ? Role.Frame : Role.Good, side == 0 ? "│" : "╎");
        }
    }
}
