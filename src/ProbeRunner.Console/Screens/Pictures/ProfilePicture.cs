using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>Bed, reach and probe offset seen from above, and probe beside nozzle seen from the front.</summary>
internal static class ProfilePicture
{
    private const string Legend = "┄ nozzle's travel  ○ screw  ╱ out of the probe's reach";

    /// <summary>Draws on the whole canvas.</summary>
    public static void Draw(CellCanvas canvas, ProfileState state, Palette palette)
    {
        (Rect head, Rect rest) = canvas.Area.CutTop(1);
        (rest, Rect foot) = rest.CutBottom(rest.Rows >= 9 ? 2 : 0);
        (Rect above, Rect front) = rest.CutRight(rest.Columns >= 64 && rest.Rows >= 10 ? 28 : 0);
        canvas.Write(head.Left, head.Top, CellText.Fit("From above", above.Columns), Ink.Bold(Role.Text));
        BedFrame frame = BedDrawing.Layout(canvas, above, state.Bed);
        BedDrawing.Hatch(canvas, frame, state.Bed);
        DrawTravel(canvas, frame, state.Travel);
        foreach (BedPoint screw in state.Screws.IsDefault ? [] : state.Screws)
        {
            BedDrawing.Mark(canvas, frame, screw, "○", new Ink(Role.Quiet, Role.Plate));
        }

        DrawHeadOver(canvas, frame, state);
        DrawFoot(canvas, foot, state);
        if (front.Columns > 0)
        {
            canvas.Write(front.Left + 2, head.Top, "From the front", Ink.Bold(Role.Text));
            DrawFront(canvas.Part(front.CutLeft(2).Remainder), state);
        }
    }

    private static void DrawTravel(CellCanvas canvas, BedFrame frame, BedRectangle travel)
    {
        Rect cells = frame.CellsOf(travel);
        (string level, string upright) = ("┄", "┆");
        canvas.Fill(new Rect(cells.Left, cells.Top, cells.Columns, Math.Min(1, cells.Rows)), Ink.Over(Role.Nozzle), level);
        canvas.Fill(new Rect(cells.Left, cells.Bottom - 1, cells.Columns, Math.Min(1, cells.Rows)), Ink.Over(Role.Nozzle), level);
        canvas.Fill(new Rect(cells.Left, cells.Top, Math.Min(1, cells.Columns), cells.Rows), Ink.Over(Role.Nozzle), upright);
        canvas.Fill(new Rect(cells.Right - 1, cells.Top, Math.Min(1, cells.Columns), cells.Rows), Ink.Over(Role.Nozzle), upright);
    }

    private static void DrawHeadOver(CellCanvas canvas, BedFrame frame, ProfileState state)
    {
        BedPoint probe = state.Bed.HomingPlace;
        var nozzle = new BedPoint(probe.X - state.Offset.X, probe.Y - state.Offset.Y);
        (int fromColumn, int fromRow) = (frame.Column(nozzle.X), frame.Row(nozzle.Y));
        int toColumn = frame.Column(probe.X);
        for (int column = Math.Min(fromColumn, toColumn) + 1; column < Math.Max(fromColumn, toColumn) && column < frame.Cells.Right; column++)
        {
            if (frame.Cells.Contains(column, fromRow))
            {
                canvas.Put(column, fromRow, "─", Ink.Over(Role.Axis));
            }
        }

        BedDrawing.Mark(canvas, frame, nozzle, "▼", new Ink(Role.Nozzle, Role.Plate, Letters.Bold));
        BedDrawing.Mark(canvas, frame, probe, "●", new Ink(Role.Probe, Role.Plate, Letters.Bold));
    }

    private static void DrawFoot(CellCanvas canvas, Rect foot, ProfileState state)
    {
        if (foot.Rows < 2)
        {
            return;
        }

        int at = canvas.Write(foot.Left, foot.Top, "▼ nozzle  ", Role.Nozzle);
        at = canvas.Write(at, foot.Top, "● probe  ", Role.Probe);
        canvas.Write(at, foot.Top, CellText.FirstThatFits(foot.Right - at, Legend, "┄ travel  ○ screw  ╱ no reach", "○ screw  ╱ no reach"), Role.Quiet);
        canvas.Write(foot.Left, foot.Top + 1, CellText.Fit(Words(state, foot.Columns), foot.Columns), Role.Text);
    }

    /// <summary>Where the probe is, in words that can be checked by looking.</summary>
    private static string Words(ProfileState state, int columns)
    {
        string x = state.Offset.X == 0 ? string.Empty : $"{Numbers.Plain(Math.Abs(state.Offset.X), 1)} mm to the {(state.Offset.X < 0 ? "left" : "right")}";
        string y = state.Offset.Y == 0 ? string.Empty : $"{Numbers.Plain(Math.Abs(state.Offset.Y), 1)} mm to the {(state.Offset.Y < 0 ? "front" : "back")}";
        string where = x.Length + y.Length == 0 ? "where the nozzle is" : string.Join(", ", new[] { x, y }.Where(part => part.Length > 0));
        string whole = $"Seen from the nozzle, the probe is {where}.";
        return whole.Length <= columns ? whole : $"Probe {where.Replace(" to the ", " ", StringComparison.Ordinal)}";
    }

    private static void DrawFront(CellCanvas canvas, ProfileState state)
    {
        double low = Math.Max(0.5, Math.Max(state.ExtendedBelowNozzleMm, state.TriggerToNozzleMm));
        double high = Math.Max(0.5, state.RetractedAboveNozzleMm);
        var scale = new Scale(-low * 1.25, high * 1.3);
        bool isLeft = state.Offset.X <= 0;
        (int nozzle, int probe) = isLeft ? (canvas.Columns - 9, 5) : (5, canvas.Columns - 9);
        int tip = RowOf(0, scale, canvas);
        canvas.Fill(new Rect(nozzle - 2, 1, 5, tip - 1), Role.Nozzle, "░");
        canvas.Put(nozzle, tip, "▼", Ink.Bold(Role.Nozzle));
        canvas.WriteCentred(new Rect(nozzle - 4, 0, 9, 1), 0, "nozzle", Role.Nozzle);
        canvas.WriteCentred(new Rect(probe - 4, 0, 9, 1), 0, "probe", Role.Probe);
        int retracted = RowOf(state.RetractedAboveNozzleMm, scale, canvas);
        int extended = RowOf(-state.ExtendedBelowNozzleMm, scale, canvas);
        canvas.Fill(new Rect(probe, 1, 1, Math.Max(0, retracted)), Ink.Bold(Role.Probe), "┃");
        canvas.Fill(new Rect(probe, retracted + 1, 1, Math.Max(0, extended - retracted)), Role.Probe, "┆");
        Label(canvas, probe + 2, retracted, $"retracted +{Numbers.Plain(state.RetractedAboveNozzleMm, 1)}");
        Label(canvas, probe + 2, extended, $"extended -{Numbers.Plain(state.ExtendedBelowNozzleMm, 1)}");
        int trigger = RowOf(-state.TriggerToNozzleMm, scale, canvas);
        if (trigger != extended)
        {
            Label(canvas, probe + 2, trigger, $"triggers -{Numbers.Plain(state.TriggerToNozzleMm, 1)}");
        }

        canvas.Fill(new Rect(0, canvas.Rows - 1, canvas.Columns, 1), Role.Frame, "─");
        canvas.Write(0, canvas.Rows - 1, "mm from the nozzle's tip", Role.Axis);
    }

    private static void Label(CellCanvas canvas, int column, int row, string text)
    {
        int from = Math.Max(0, Math.Min(column, canvas.Columns - text.Length));
        canvas.Write(from, row, text, Ink.Over(Role.Text));
    }

    private static int RowOf(double value, Scale scale, CellCanvas canvas) => Math.Clamp(canvas.Rows - 2 - scale.CellOf(value, canvas.Rows - 2), 1, Math.Max(1, canvas.Rows - 2));
}
