using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures.Charts;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>Height against time with the fitted settling above, temperatures below.</summary>
internal static class WarmUpPicture
{
    /// <summary>Draws on the whole canvas.</summary>
    public static void Draw(CellCanvas canvas, WarmUpState state, Palette palette)
    {
        TimedHeight[] heights = state.Heights.IsDefault ? [] : [.. state.Heights.Where(height => double.IsFinite(height.HeightMm) && double.IsFinite(height.Seconds))];
        TimedHeat[] heat = state.Heat.IsDefault ? [] : [.. state.Heat];
        (Rect head, Rect rest) = canvas.Area.CutTop(1);
        canvas.Write(head.Left, head.Top, CellText.Fit(Head(state, heights), head.Columns), Ink.Bold(Role.Text));
        if (heights.Length == 0)
        {
            canvas.WriteCentred(rest, rest.Top + (rest.Rows / 2), "The first touch is on its way.", Role.Quiet);
            return;
        }

        bool hasHeat = heat.Length > 0 && rest.Rows >= 14;
        (Rect upper, Rect lower) = rest.CutBottom(hasHeat ? (rest.Rows / 3) + 1 : 0);
        double end = Math.Max(60, Math.Max(heights[^1].Seconds, state.Fit is { } fit && double.IsFinite(fit.SettledSeconds) ? Math.Min(fit.SettledSeconds, 3 * heights[^1].Seconds) : 0) * 1.05);
        var time = new Scale(0, end);
        DrawHeights(canvas, upper, time, heights, state);
        if (hasHeat)
        {
            DrawHeat(canvas, lower, time, heat);
        }
    }

    private static string Head(WarmUpState state, TimedHeight[] heights)
    {
        if (heights.Length == 0)
        {
            return "Watching the height while the machine warms";
        }

        string moved = $"{heights.Length} touches, moved {Numbers.Signed(heights[^1].HeightMm - heights[0].HeightMm).Trim()} mm";
        return state.Fit is { } fit && double.IsFinite(fit.SettledSeconds)
            ? heights[^1].Seconds >= fit.SettledSeconds
                ? $"{moved}: settled within {Numbers.Plain(state.ToleranceMm)} mm after {Numbers.Time(TimeSpan.FromSeconds(Math.Min(fit.SettledSeconds, 1e6)))}"
                : $"{moved}, {Numbers.Plain(Math.Abs(fit.At(heights[^1].Seconds) - fit.EndMm))} mm still to go: settled at about {Numbers.Time(TimeSpan.FromSeconds(Math.Min(fit.SettledSeconds, 1e6)))}"
            : moved + ", no settling seen yet";
    }

    private static void DrawHeights(CellCanvas canvas, Rect area, Scale time, TimedHeight[] heights, WarmUpState state)
    {
        (Rect chart, Rect _) = area.CutBottom(area.Rows >= 5 ? 1 : 0);
        double[] ends = state.Fit is { } curve ? [curve.EndMm] : [];
        Scale scale = Scale.Holding([.. heights.Select(height => height.HeightMm), .. ends], 0.03, 0.1);
        chart = ValueAxis.DrawLeft(canvas, chart, scale, isSigned: true);
        if (area.Rows >= 5)
        {
            ValueAxis.DrawBelow(canvas, chart, new Scale(0, time.High / 60), "min");
        }

        CellCanvas part = canvas.Part(chart);
        if (state.Fit is { } fit)
        {
            DrawBand(part, scale, fit.EndMm, state.ToleranceMm);
        }

        var plot = new Plot(part);
        if (state.Fit is { } settling)
        {
            Curve(plot, time, scale, settling.At, Role.Accent);
        }

        plot.Draw();
        foreach (TimedHeight height in heights)
        {
            part.Put(
                Math.Clamp(time.CellOf(height.Seconds, part.Columns), -1, part.Columns), part.Rows - 1 - scale.CellOf(height.HeightMm, part.Rows), "●", Ink.Over(Role.Text));
        }
    }

    private static void DrawBand(CellCanvas part, Scale scale, double end, double tolerance)
    {
        foreach (int side in (ReadOnlySpan<int>)[-1, 1])
        {
            part.Fill(new Rect(0, part.Rows - 1 - scale.CellOf(end + (side * tolerance), part.Rows), part.Columns, 1), Role.Good, "╌");
        }
    }

    private static void DrawHeat(CellCanvas canvas, Rect area, Scale time, TimedHeat[] heat)
    {
        int at = canvas.Write(area.Left, area.Top, "degC  ", Role.Axis);
        at = canvas.Write(at, area.Top, $"nozzle {Numbers.Plain(heat[^1].NozzleCelsius, 0)}  ", Role.Nozzle);
        canvas.Write(at, area.Top, $"bed {Numbers.Plain(heat[^1].BedCelsius, 0)}", Role.Probe);
        Scale scale = Scale.Holding([.. heat.Select(report => report.NozzleCelsius), .. heat.Select(report => report.BedCelsius), 0], 20);
        Rect chart = ValueAxis.DrawLeft(canvas, area.CutTop(1).Remainder, scale, isSigned: false);
        var plot = new Plot(canvas.Part(chart));
        for (int index = 1; index < heat.Length; index++)
        {
            Line(plot, time, scale, heat[index - 1].Seconds, heat[index - 1].BedCelsius, heat[index].Seconds, heat[index].BedCelsius, Role.Probe);
            Line(plot, time, scale, heat[index - 1].Seconds, heat[index - 1].NozzleCelsius, heat[index].Seconds, heat[index].NozzleCelsius, Role.Nozzle);
        }

        plot.Draw();
    }

    private static void Curve(Plot plot, Scale time, Scale scale, Func<double, double> value, Ink ink)
    {
        for (int x = 0; x < plot.Width; x++)
        {
            plot.Dot(x, plot.Height - scale.Position(value(time.ValueAt(x, plot.Width)), plot.Height), ink);
        }
    }

    private static void Line(Plot plot, Scale time, Scale scale, double fromT, double from, double toT, double to, Ink ink) => plot.Line(
        time.Position(fromT, plot.Width), plot.Height - scale.Position(from, plot.Height), time.Position(toT, plot.Width), plot.Height - scale.Position(to, plot.Height), ink);
}
