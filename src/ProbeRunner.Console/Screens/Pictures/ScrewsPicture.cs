using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Procedures.Steps.Screws;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>The bed from above: which screw to turn, how far, and which way round as seen from above.</summary>
internal static class ScrewsPicture
{
    private const int LabelColumns = 18;
    private const int LeastLabelColumns = 11;
    private const int AxisColumns = 6;

    /// <summary>Draws on the whole canvas.</summary>
    public static void Draw(CellCanvas canvas, ScrewsState state, Palette palette)
    {
        ScrewMark[] screws = state.Screws.IsDefault ? [] : [.. state.Screws];
        ScrewMark? now = screws.FirstOrDefault(screw => screw.IsNow);
        (Rect head, Rect rest) = canvas.Area.CutTop(1);
        (Rect bed, Rect foot) = rest.CutBottom(rest.Rows >= 9 ? 2 : rest.Rows >= 6 ? 1 : 0);
        canvas.Write(head.Left, head.Top, Head(state, screws, head.Columns), Ink.Bold(Role.Text));
        BedFrame frame = BedDrawing.Layout(canvas, bed, state.Bed);
        BedDrawing.Hatch(canvas, frame, state.Bed with { Unreachable = [] });
        foreach (ScrewMark screw in screws)
        {
            DrawScrew(canvas, frame, screw, state.ToleranceMm);
        }

        if (now is not null && now.Turns != 0)
        {
            DrawDial(canvas, frame, now.Turns);
        }

        DrawFoot(canvas, foot, screws, now);
    }

    private static string Head(ScrewsState state, ScrewMark[] screws, int columns)
    {
        double[] heights = [.. screws.Where(screw => screw.HeightMm is not null).Select(screw => screw.HeightMm!.Value)];
        if (heights.Length == 0)
        {
            return CellText.Fit("The bed at its screws, not measured yet", columns);
        }

        (string range, string tolerance) = (Numbers.Plain(heights.Max() - heights.Min()), Numbers.Plain(state.ToleranceMm));
        return CellText.FirstThatFits(
            columns, $"Bed at its screws ({state.Round}): range {range} mm, tolerance ± {tolerance}", $"({state.Round}) range {range} mm, tolerance ± {tolerance}", $"range {range} mm");
    }

    private static void DrawScrew(CellCanvas canvas, BedFrame frame, ScrewMark screw, double toleranceMm)
    {
        (int column, int row) = (frame.Column(screw.Place.X), frame.Row(screw.Place.Y));
        if (!frame.Cells.Contains(column, row))
        {
            return;
        }

        bool isLevel = screw.HeightMm is { } height && Math.Abs(height) <= toleranceMm;
        Ink ink = screw.IsNow ? Ink.Selected : new Ink(screw.HeightMm is null ? Role.Quiet : isLevel ? Role.Good : Role.Warning, Role.Plate, Letters.Bold);
        canvas.Put(column, row, screw.Turns > 0 ? "↻" : screw.Turns < 0 ? "↺" : isLevel ? "✓" : "○", ink);

        DrawLabel(canvas, frame, screw, row, column - frame.Cells.Left < frame.Cells.Columns / 2, isLevel);
    }

    /// <summary>Beside the plate, on the screw's side; on it where there is no room beside.</summary>
    private static void DrawLabel(CellCanvas canvas, BedFrame frame, ScrewMark screw, int row, bool isLeft, bool isLevel)
    {
        int room = isLeft ? frame.Cells.Left - AxisColumns : canvas.Columns - frame.Cells.Right - 1;
        bool isBeside = room >= LeastLabelColumns;
        int wide = isBeside ? Math.Min(LabelColumns, room - 1) : Math.Min(LabelColumns, (frame.Cells.Columns / 2) - 5);
        int from = (isLeft, isBeside) switch
        {
            (true, true) => frame.Cells.Left - AxisColumns - wide,
            (false, true) => frame.Cells.Right + 2,
            (true, false) => frame.Column(screw.Place.X) + 2,
            _ => frame.Column(screw.Place.X) - 1 - wide,
        };
        CellCanvas label = canvas.Part(new Rect(from, row - 1, wide, 3));
        Colour ground = isBeside ? Role.Ground : Role.Plate;
        Ink figures = screw.IsNow ? Ink.Selected : new Ink(screw.HeightMm is null ? Role.Quiet : isLevel ? Role.Good : Role.Warning, ground, Letters.Bold);
        bool isLeading = isLeft != isBeside;
        WriteLine(label, 0, screw.Name, new Ink(Role.Text, ground), isLeading);
        WriteLine(label, 1, screw.HeightMm is { } mm ? $"{Numbers.Signed(mm).Trim()} mm" : "not measured", figures, isLeading);
        WriteLine(label, 2, screw.Turns == 0 ? string.Empty : $"{(screw.Turns > 0 ? "↻" : "↺")} {Short(screw.Turns)}", figures, isLeading);
    }

    private static void WriteLine(CellCanvas label, int row, string text, Ink ink, bool isLeading)
    {
        string fitting = CellText.Fit(text, label.Columns);
        label.Write(isLeading ? 0 : label.Columns - CellText.Cells(fitting), row, fitting, ink);
    }

    /// <summary>A dial in the middle of the bed: the arc that the knob goes through, seen from above.</summary>
    private static void DrawDial(CellCanvas canvas, BedFrame frame, double turns)
    {
        Rect inner = frame.Cells.Inset(frame.Cells.Columns / 3, frame.Cells.Rows / 4);
        int rows = Math.Min(inner.Rows, inner.Columns / 2);
        if (rows < 5)
        {
            return;
        }

        CellCanvas dial = canvas.Part(new Rect(inner.Left + ((inner.Columns - (2 * rows)) / 2), inner.Top + ((inner.Rows - rows) / 2), 2 * rows, rows));
        var plot = new Plot(dial);
        double radius = (plot.Height / 2.0) - 1;
        (double centreX, double centreY) = (plot.Width / 2.0, plot.Height / 2.0);
        const int Parts = 180;
        for (int part = 0; part <= Parts; part++)
        {
            Place(plot, centreX, centreY, radius * 0.72, part * 2 * Math.PI / Parts, Ink.Over(Role.Axis));
        }

        double sweep = Math.Clamp(turns, -1, 1) * 2 * Math.PI;
        for (int part = 0; part <= Parts; part++)
        {
            Place(plot, centreX, centreY, radius, sweep * part / Parts, Ink.Over(Role.Accent));
            Place(plot, centreX, centreY, radius - 1, sweep * part / Parts, Ink.Over(Role.Accent));
        }

        plot.Line(centreX, centreY, centreX + (radius * 0.6 * Math.Sin(sweep)), centreY - (radius * 0.6 * Math.Cos(sweep)), Ink.Over(Role.Accent));
        plot.Draw();
    }

    private static void Place(Plot plot, double centreX, double centreY, double radius, double angle, Ink ink) =>
        plot.Dot(centreX + (radius * Math.Sin(angle)), centreY - (radius * Math.Cos(angle)), ink);

    private static void DrawFoot(CellCanvas canvas, Rect foot, ScrewMark[] screws, ScrewMark? now)
    {
        if (foot.Rows == 0)
        {
            return;
        }

        string says = now is not null && now.Turns != 0
            ? $"{(now.Turns > 0 ? "↻" : "↺")} {now.Name}: {TurnWords.Amount(now.Turns)} {TurnWords.Way(now.Turns)}"
            : screws.Any(screw => screw.Turns != 0) ? "Turns as marked, seen from above." : screws.Any(screw => screw.HeightMm is not null) ? "✓ Nothing to turn." : string.Empty;
        canvas.Write(foot.Left, foot.Top, CellText.Fit(says, foot.Columns), Ink.Bold(now is null ? Role.Text : Role.Accent));
        if (foot.Rows > 1 && now is not null && now.Turns != 0)
        {
            string rise = $"bed {(now.RiseMm > 0 ? "rises" : "sinks")} {Numbers.Plain(Math.Abs(now.RiseMm), 2)} mm";
            string seen = CellText.FirstThatFits(foot.Columns, $"  seen from above ({TurnWords.Way(-now.Turns)} from below); {rise}", $"  seen from above; {rise}");
            canvas.Write(foot.Left, foot.Top + 1, seen, Role.Quiet);
        }
    }

    private static string Short(double turns)
    {
        string amount = TurnWords.Amount(turns);
        int bracket = amount.IndexOf(" (", StringComparison.Ordinal);
        return bracket < 0 ? amount : amount[..bracket];
    }
}
