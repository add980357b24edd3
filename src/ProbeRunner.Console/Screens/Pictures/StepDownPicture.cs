using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures.Charts;
using ProbeRunner.Metrology.Thresholds;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>The ladder of heights with what the paper did at each, the estimate narrowing, and the keys to answer with.</summary>
internal static class StepDownPicture
{
    /// <summary>Draws on the whole canvas.</summary>
    public static void Draw(CellCanvas canvas, StepDownState state, Palette palette)
    {
        FeltHeight[] answers = state.Answers.IsDefault ? [] : [.. state.Answers.Where(answer => double.IsFinite(answer.HeightMm))];
        ThresholdEstimate? estimate = state.Estimates.IsDefaultOrEmpty ? null : state.Estimates[^1];
        (Rect head, Rect rest) = canvas.Area.CutTop(1);
        (rest, Rect keys) = rest.CutBottom(state.Keys.IsDefaultOrEmpty ? 0 : rest.Rows >= 12 ? 4 : 1);
        (Rect charts, Rect legend) = rest.CutBottom(rest.Rows >= 6 ? 1 : 0);
        canvas.Write(head.Left, head.Top, Head(state, answers, estimate, head.Columns), Ink.Bold(Role.Text));
        BigKeys.Draw(canvas, keys, state.Keys);
        DrawLegend(canvas, legend, state.IsAsking);
        if (answers.Length == 0)
        {
            canvas.WriteCentred(charts, charts.Top + (charts.Rows / 2), "Heights and answers appear here.", Role.Quiet);
            return;
        }

        (Rect ladder, Rect narrowing) = charts.CutLeft(charts.Columns >= 56 ? (charts.Columns / 2) - 1 : charts.Columns);
        Scale scale = Scale.Holding([.. answers.Select(answer => answer.HeightMm), .. Ends(estimate)], 0.08);
        DrawLadder(canvas, ladder, scale, answers, estimate);
        if (narrowing.Columns > 12 && !state.Estimates.IsDefaultOrEmpty)
        {
            DrawNarrowing(canvas, narrowing.CutLeft(2).Remainder, state);
        }
    }

    private static string Head(StepDownState state, FeltHeight[] answers, ThresholdEstimate? estimate, int columns)
    {
        if (state.Take == 0)
        {
            return CellText.FirstThatFits(columns, "No take yet: the machine is made ready for it", "No take yet");
        }

        string take = $"Take {state.Take}, {answers.Length} {(answers.Length == 1 ? "answer" : "answers")}";
        if (estimate is null)
        {
            return CellText.FirstThatFits(columns, $"{take}: feeling for the first drag", take);
        }

        (string drags, string within, string wanted) = (Numbers.Signed(estimate.ThresholdMm).Trim(), Numbers.Plain(HalfWidth(estimate)), Numbers.Plain(state.WantedHalfWidthMm));
        return CellText.FirstThatFits(
            columns, $"{take}: drags from {drags} mm, ± {within} (wanted ± {wanted})", $"Take {state.Take}: drags from {drags} ± {within} mm, wanted {wanted}", $"{drags} ± {within} mm");
    }

    private static void DrawLadder(CellCanvas canvas, Rect area, Scale scale, FeltHeight[] answers, ThresholdEstimate? estimate)
    {
        Rect rungs = ValueAxis.DrawLeft(canvas, area, scale, isSigned: true);
        if (estimate is not null)
        {
            int top = Math.Max(rungs.Top, ValueAxis.RowOf(estimate.UpperMm, scale, rungs));
            int bottom = Math.Min(rungs.Bottom - 1, ValueAxis.RowOf(estimate.LowerMm, scale, rungs));
            canvas.Fill(new Rect(rungs.Left, top, 1, bottom - top + 1), Role.Accent, "┃");
            int at = ValueAxis.RowOf(estimate.ThresholdMm, scale, rungs);
            if (rungs.Contains(rungs.Left, at))
            {
                canvas.Fill(new Rect(rungs.Left + 1, at, rungs.Columns - 1, 1), Role.Frame, "╌");
                canvas.Put(rungs.Left, at, "▶", Ink.Bold(Role.Accent));
            }
        }

        var used = new int[Math.Max(1, rungs.Rows)];
        for (int index = 0; index < answers.Length; index++)
        {
            int row = Math.Clamp(ValueAxis.RowOf(answers[index].HeightMm, scale, rungs), rungs.Top, Math.Max(rungs.Top, rungs.Bottom - 1));
            int column = rungs.Left + 2 + (2 * used[Math.Min(row - rungs.Top, used.Length - 1)]++);
            if (rungs.Contains(column, row))
            {
                (string mark, Role role) = Mark(answers[index].Felt);
                canvas.Put(column, row, mark, index == answers.Length - 1 ? new Ink(Role.SelectionText, Role.Selection, Letters.Bold) : role);
            }
        }
    }

    private static void DrawNarrowing(CellCanvas canvas, Rect area, StepDownState state)
    {
        ThresholdEstimate[] all = [.. state.Estimates];
        double reach = Math.Max(2 * state.WantedHalfWidthMm, Math.Min(all.Max(HalfWidth), 8 * state.WantedHalfWidthMm));
        double last = all[^1].ThresholdMm;
        var scale = new Scale(-reach * 1.05, reach * 1.05);
        canvas.Write(area.Left, area.Top, CellText.Fit("95 % interval, answer by answer", area.Columns), Role.Axis);
        Rect chart = ValueAxis.DrawLeft(canvas, area.CutTop(1).Remainder, scale, isSigned: true);
        foreach (int side in (ReadOnlySpan<int>)[-1, 1])
        {
            int row = ValueAxis.RowOf(side * state.WantedHalfWidthMm, scale, chart);
            if (row >= chart.Top && row < chart.Bottom)
            {
                canvas.Fill(new Rect(chart.Left, row, chart.Columns, 1), Role.Good, "╌");
            }
        }

        ThresholdEstimate[] shown = all.Length > chart.Columns ? all[^Math.Max(1, chart.Columns)..] : all;
        int apart = Math.Clamp(chart.Columns / Math.Max(8, shown.Length), 1, 3);
        for (int index = 0; index < shown.Length; index++)
        {
            int column = chart.Left + (index * apart) + (apart / 2);
            int top = Math.Max(chart.Top, ValueAxis.RowOf(shown[index].UpperMm - last, scale, chart));
            int bottom = Math.Min(chart.Bottom - 1, ValueAxis.RowOf(shown[index].LowerMm - last, scale, chart));
            if (column < chart.Right)
            {
                canvas.Fill(new Rect(column, top, 1, bottom - top + 1), Role.Accent, "│");
                int at = ValueAxis.RowOf(shown[index].ThresholdMm - last, scale, chart);
                if (chart.Contains(column, at))
                {
                    canvas.Put(column, at, "●", Role.Text);
                }
            }
        }
    }

    private static void DrawLegend(CellCanvas canvas, Rect legend, bool isAsking)
    {
        int column = legend.Left;
        foreach (string felt in (ReadOnlySpan<string>)["free", "drags", "pinched"])
        {
            (string mark, Role role) = Mark(felt);
            column = canvas.Part(legend).Write(column - legend.Left, 0, mark, role) + legend.Left;
            column = canvas.Part(legend).Write(column - legend.Left, 0, $" {felt}   ", Role.Axis) + legend.Left;
        }

        if (isAsking)
        {
            canvas.Part(legend).Write(column - legend.Left, 0, CellText.FirstThatFits(legend.Right - column, "the present height is hidden: let the hand judge", "height hidden: feel", ""), Role.Quiet);
        }
    }

    private static (string Mark, Role Role) Mark(string felt) => felt switch
    {
        "free" => ("○", Role.Text),
        "pinched" => ("●", Role.Bad),
        _ => ("◐", Role.Warning),
    };

    private static double HalfWidth(ThresholdEstimate estimate) => (estimate.UpperMm - estimate.LowerMm) / 2;

    private static double[] Ends(ThresholdEstimate? estimate) => estimate is null ? [] : [estimate.ThresholdMm];
}
