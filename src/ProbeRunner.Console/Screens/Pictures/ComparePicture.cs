using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Console.Screens.Pictures.Charts;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>Two maps on one scale, and their difference on its own.</summary>
internal static class ComparePicture
{
    /// <summary>Draws on the whole canvas.</summary>
    public static void Draw(CellCanvas canvas, CompareState state, Palette palette)
    {
        BedField difference = state.Difference;
        Ramp heights = Ramp.AroundZero([.. state.Before.Values, .. state.After.Values]);
        Ramp changes = Ramp.AroundZero(difference.Values);
        (Rect head, Rect rest) = canvas.Area.CutTop(1);
        canvas.Write(head.Left, head.Top, CellText.Fit(state.Says, head.Columns), Ink.Bold(Role.Text));
        if (canvas.Columns < 60)
        {
            DrawOne(canvas, rest, state.Bed, difference, changes, "difference", palette);
            return;
        }

        int wide = rest.Columns / 3;
        DrawOne(canvas, rest with { Columns = wide - 1 }, state.Bed, state.Before, heights, state.BeforeName, palette);
        DrawOne(canvas, rest with { Left = rest.Left + wide, Columns = wide - 1 }, state.Bed, state.After, heights, state.AfterName, palette);
        DrawOne(canvas, rest with { Left = rest.Left + (2 * wide), Columns = wide - 1 }, state.Bed, difference, changes, "difference", palette);
    }

    private static void DrawOne(CellCanvas canvas, Rect area, BedOutline bed, BedField field, Ramp ramp, string name, Palette palette)
    {
        CellCanvas part = canvas.Part(area);
        (Rect head, Rect rest) = part.Area.CutTop(1);
        part.Write(head.Left, head.Top, CellText.Fit(name, head.Columns), Role.Axis);
        (rest, Rect foot) = rest.CutBottom(rest.Rows >= 5 ? 2 : 0);
        BedFrame frame = BedDrawing.Layout(part, rest, bed);
        int fields = HalfBlocks.FieldsIn(frame.Cells.Rows, palette);
        HalfBlocks.Paint(part.Part(frame.Cells), ramp, palette, (column, row) => field.At(frame.PlaceOf(column, row, fields)));
        BedDrawing.Hatch(part, frame, bed with { Unreachable = [] });
        if (foot.Rows < 2)
        {
            return;
        }

        double[] values = [.. field.Values.Where(double.IsFinite)];
        LevelScale.Draw(part, foot with { Rows = 1 }, ramp, palette);
        part.Write(foot.Left, foot.Top + 1, CellText.Fit(
            values.Length == 0 ? "nothing in common" : $"{Numbers.Signed(values.Min()).Trim()} to {Numbers.Signed(values.Max()).Trim()} mm", foot.Columns), Role.Text);
    }
}
