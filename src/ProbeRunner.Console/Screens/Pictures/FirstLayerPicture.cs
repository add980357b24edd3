using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Console.Screens.Pictures.Charts;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>Patches on the bed with how they look, the same by height within the adhesion window, and the nudge.</summary>
internal static class FirstLayerPicture
{
    private const int LegendColumns = 24;

    /// <summary>Draws on the whole canvas.</summary>
    public static void Draw(CellCanvas canvas, FirstLayerState state, Palette palette)
    {
        PatchMark[] patches = state.Patches.IsDefault ? [] : [.. state.Patches];
        (Rect head, Rect rest) = canvas.Area.CutTop(1);
        (Rect main, Rect foot) = rest.CutBottom(rest.Rows >= 7 ? 2 : 0);
        (Rect bed, Rect side) = main.CutLeft(main.Columns >= 60 ? main.Columns * 11 / 20 : main.Columns);
        int written = canvas.Write(head.Left, head.Top, Head(state, patches, head.Columns), Ink.Bold(Role.Text));
        BedFrame frame = BedDrawing.Layout(canvas, bed, state.Bed);
        BedDrawing.Hatch(canvas, frame, state.Bed with { Unreachable = [] });
        foreach (PatchMark patch in patches)
        {
            DrawPatch(canvas, frame, patch);
        }

        if (state.Nozzle is { } nozzle)
        {
            BedDrawing.Mark(canvas, frame, new(nozzle.X, nozzle.Y), "▼", new Ink(Role.Nozzle, Role.Plate, Letters.Bold));
        }

        if (side.Columns > 16)
        {
            DrawWindow(canvas, side.CutLeft(2).Remainder, state, patches);
        }
        else if (head.Right - LegendColumns > written)
        {
            DrawLegend(canvas, head.Right - LegendColumns, head.Top);
        }

        DrawFoot(canvas, foot, state);
    }

    private static string Head(FirstLayerState state, PatchMark[] patches, int columns)
    {
        int judged = patches.Count(patch => patch.Look.Length > 0);
        if (state.CorrectionMm is { } found)
        {
            (string wanted, string between) = (Numbers.Signed(found.Value).Trim(), $"{Numbers.Signed(found.Lower).Trim()} to {Numbers.Signed(found.Upper).Trim()}");
            return CellText.FirstThatFits(columns, $"{judged} patches judged: the offset wants {wanted} mm ({between})", $"The offset wants {wanted} mm ({between})", $"offset {wanted} mm");
        }

        return CellText.Fit(patches.Length == 0 ? "No patch laid yet" : $"{judged} of {patches.Length} patches judged", columns);
    }

    private static void DrawPatch(CellCanvas canvas, BedFrame frame, PatchMark patch)
    {
        (int column, int row) = (frame.Column(patch.Place.X), frame.Row(patch.Place.Y));
        (string mark, Role role) = Mark(patch.Look);
        CellCanvas plate = canvas.Part(frame.Cells);
        Ink ink = patch.IsNow ? new Ink(Role.SelectionText, Role.Selection, Letters.Bold) : new Ink(role, Role.Plate, Letters.Bold);
        (int left, int top) = (column - frame.Cells.Left, row - frame.Cells.Top);
        for (int beside = -1; beside <= 1; beside++)
        {
            plate.Put(left + beside, top, mark, ink);
        }

        if (patch.HeightMm is { } height && frame.Cells.Columns >= 24 && frame.Cells.Rows >= 8)
        {
            string text = Numbers.Plain(height, 2);
            plate.Write(left - (text.Length / 2), top + 1, text, new Ink(Role.Quiet, Role.Plate));
        }
    }

    private static void DrawWindow(CellCanvas canvas, Rect area, FirstLayerState state, PatchMark[] patches)
    {
        canvas.Write(area.Left, area.Top, CellText.Fit("looks by laid height, mm", area.Columns), Role.Axis);
        PatchMark[] judged = [.. patches.Where(patch => patch is { HeightMm: not null, Look.Length: > 0 })];
        Scale scale = Scale.Holding([.. judged.Select(patch => patch.HeightMm!.Value), state.LowestGapMm, state.HighestGapMm], 0.1, 0.12);
        Rect rungs = ValueAxis.DrawLeft(canvas, area.CutTop(1).Remainder.CutBottom(1).Remainder, scale, isSigned: false);
        DrawEnd(canvas, rungs, scale, state.HighestGapMm, "above: won't stick");
        DrawEnd(canvas, rungs, scale, state.LowestGapMm, "below: squeezed out");
        var used = new int[Math.Max(1, rungs.Rows)];
        foreach (PatchMark patch in judged)
        {
            int row = Math.Clamp(ValueAxis.RowOf(patch.HeightMm!.Value, scale, rungs), rungs.Top, Math.Max(rungs.Top, rungs.Bottom - 1));
            int column = rungs.Left + 1 + (2 * used[Math.Min(row - rungs.Top, used.Length - 1)]++);
            (string mark, Role role) = Mark(patch.Look);
            if (rungs.Contains(column, row))
            {
                canvas.Put(column, row, mark, Ink.Bold(role));
            }
        }

        DrawLegend(canvas, area.Left, area.Bottom - 1);
    }

    private static void DrawLegend(CellCanvas canvas, int column, int row)
    {
        foreach (string look in (ReadOnlySpan<string>)["gaps", "good", "ridges"])
        {
            (string mark, Role role) = Mark(look);
            column = canvas.Write(column, row, mark, role);
            column = canvas.Write(column, row, $" {look}  ", Role.Axis);
        }
    }

    private static void DrawEnd(CellCanvas canvas, Rect rungs, Scale scale, double gap, string word)
    {
        int row = ValueAxis.RowOf(gap, scale, rungs);
        if (row >= rungs.Top && row < rungs.Bottom)
        {
            canvas.Fill(new Rect(rungs.Left, row, rungs.Columns, 1), Role.Frame, "╌");
            canvas.WriteLeftOf(rungs.Right, row, CellText.Fit(word, rungs.Columns - 1), Role.Quiet);
        }
    }

    private static void DrawFoot(CellCanvas canvas, Rect foot, FirstLayerState state)
    {
        if (foot.Rows < 2)
        {
            return;
        }

        if (state.Nozzle is { } at)
        {
            canvas.Write(foot.Left, foot.Top, CellText.Fit($"▼ nozzle x {Numbers.Plain(at.X, 1)} y {Numbers.Plain(at.Y, 1)} z {Numbers.Plain(at.Z)} mm", foot.Columns), Role.Text);
        }

        if (state.NudgeMm is not { } nudge)
        {
            return;
        }

        string text = $"nudge {Numbers.Signed(nudge, 2)} mm  nearer ";
        int from = canvas.Write(foot.Left, foot.Bottom - 1, CellText.Fit(text, foot.Columns), Ink.Bold(Role.Accent));
        var line = new Rect(from, foot.Bottom - 1, Math.Min(31, foot.Right - from - 9), 1);
        if (line.Columns > 6)
        {
            canvas.Fill(line, Role.Frame, "─");
            var scale = new Scale(-FirstLayerState.MostNudgeMm, FirstLayerState.MostNudgeMm);
            canvas.Put(line.Left + scale.CellOf(0, line.Columns), line.Top, "┼", Role.Axis);
            canvas.Put(line.Left + Math.Clamp(scale.CellOf(nudge, line.Columns), 0, line.Columns - 1), line.Top, "◆", Ink.Bold(Role.Accent));
            canvas.Write(line.Right + 1, line.Top, "farther", Ink.Bold(Role.Accent));
        }
    }

    private static (string Mark, Role Role) Mark(string look) => look switch
    {
        "gaps" => ("░", Role.Warning),
        "good" => ("█", Role.Good),
        "ridges" => ("▲", Role.Bad),
        _ => ("·", Role.Quiet),
    };
}
