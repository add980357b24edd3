using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures.Charts;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>The distances along the axis, the line through them, and the lines its slope could as well have.</summary>
internal static class LeanPicture
{
    /// <summary>Draws on the whole canvas.</summary>
    public static void Draw(CellCanvas canvas, LeanState state, Palette palette)
    {
        LeanPoint[] points = state.Points.IsDefault ? [] : [.. state.Points];
        (Rect head, Rect rest) = canvas.Area.CutTop(1);
        canvas.Write(head.Left, head.Top, CellText.Fit(Head(state, points), head.Columns), Ink.Bold(Role.Text));
        if (points.Length == 0)
        {
            canvas.WriteCentred(rest, rest.Top + (rest.Rows / 2), "Distances appear here, place by place.", Role.Quiet);
            return;
        }

        (rest, Rect foot) = rest.CutBottom(rest.Rows >= 8 ? 1 : 0);
        (Rect chart, Rect _) = rest.CutBottom(rest.Rows >= 5 ? 1 : 0);
        var along = new Scale(0, state.SpanMm);
        double[] ends = state.Line is { } fitted ? [fitted.At(0, fitted.Slope), fitted.At(state.SpanMm, fitted.Slope)] : [];
        Scale scale = Scale.Holding([.. points.Select(point => point.DistanceMm), .. ends], 3 * state.ToleranceMm, 0.1);
        chart = ValueAxis.DrawLeft(canvas, chart, scale, isSigned: true);
        if (rest.Rows >= 5)
        {
            ValueAxis.DrawBelow(canvas, chart, along, $"{char.ToLowerInvariant(state.Axis)} mm");
        }

        CellCanvas part = canvas.Part(chart);
        var plot = new Plot(part);
        if (state.Line is { } line)
        {
            Line(plot, line, line.SlopeLower, along, scale, Role.Frame);
            Line(plot, line, line.SlopeUpper, along, scale, Role.Frame);
            Line(plot, line, line.Slope, along, scale, Role.Accent);
        }

        plot.Draw();
        foreach (LeanPoint point in points)
        {
            DrawPoint(part, point, along, scale);
        }

        if (foot.Rows > 0 && state.Line is { } found)
        {
            canvas.Write(foot.Left, foot.Top, CellText.Fit(Sides(state, found), foot.Columns), Role.Text);
        }
    }

    private static string Head(LeanState state, LeanPoint[] points) => state.Line is { } line
        ? $"Lean along {state.Axis}: {PerHundred(line.Slope)} mm per 100 mm, 95 % {PerHundred(line.SlopeLower)} to {PerHundred(line.SlopeUpper)}"
        : $"Lean along {state.Axis}: {points.Length} {(points.Length == 1 ? "place" : "places")} measured";

    private static string Sides(LeanState state, LeanLine line)
    {
        double side = line.Slope * state.SpanMm / 2;
        (string low, string high) = state.Axis is 'Y' or 'y' ? ("front", "back") : ("left", "right");
        return $"From the middle to the edge: {low} {Numbers.Signed(-side).Trim()}, {high} {Numbers.Signed(side).Trim()} mm; tolerance ± {Numbers.Plain(state.ToleranceMm)}";
    }

    private static string PerHundred(double slope) => Numbers.Signed(100 * slope).Trim();

    private static void Line(Plot plot, LeanLine line, double slope, Scale along, Scale scale, Ink ink) => plot.Line(
        0, plot.Height - scale.Position(line.At(along.Low, slope), plot.Height), plot.Width, plot.Height - scale.Position(line.At(along.High, slope), plot.Height), ink);

    private static void DrawPoint(CellCanvas part, LeanPoint point, Scale along, Scale scale)
    {
        int column = along.CellOf(point.AtMm, part.Columns);
        int top = Math.Max(0, part.Rows - 1 - scale.CellOf(point.DistanceMm + (2 * point.StandardUncertaintyMm), part.Rows));
        int bottom = Math.Min(part.Rows - 1, part.Rows - 1 - scale.CellOf(point.DistanceMm - (2 * point.StandardUncertaintyMm), part.Rows));
        part.Fill(new Rect(column, top, 1, bottom - top + 1), Ink.Over(Role.Quiet), "│");
        part.Put(column, part.Rows - 1 - scale.CellOf(point.DistanceMm, part.Rows), "●", Ink.Bold(Role.Text));
    }
}
