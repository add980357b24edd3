using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Pictures;

/// <summary>The height of one place over time while the machine warmed, with the fitted settling and the band within which it counts as settled.</summary>
internal static class WarmUpPlot
{
    private const int CurvePoints = 80;
    private const double MicrometresPerMm = 1000;

    /// <summary>Draws a warm-up; at least one touch.</summary>
    public static Html Draw(WarmUpConclusion warm)
    {
        double last = Math.Max(1, warm.Points[^1].Seconds / 60);
        (double Minutes, double Micrometres)[] points = [.. warm.Points.Select(point => (point.Seconds / 60, (point.HeightMm - warm.EndHeightMm) * MicrometresPerMm))];
        double tolerance = warm.ToleranceMm * MicrometresPerMm;
        double low = Math.Min(points.Min(point => point.Micrometres), -tolerance), high = Math.Max(points.Max(point => point.Micrometres), tolerance);
        double room = 0.08 * (high - low);
        var chart = new Chart(640, 280, 0, last, low - room, high + room);
        double step = Ticks.Step(last, 8);
        return Html.Of($"""
            <svg class="chart" viewBox="0 0 640 280" role="img" aria-labelledby="warm-title warm-text">
            <title id="warm-title">Height of one place while the machine warmed</title>
            <desc id="warm-text">{Describe(warm)}</desc>
            {chart.Frame("minutes since the heaters went on", "from the end, µm")}
            <rect class="limit-band" x="{Chart.Left}" y="{chart.Y(tolerance)}" width="{chart.End - Chart.Left}" height="{chart.Y(-tolerance) - chart.Y(tolerance)}"/>
            {chart.Level(0, "mean", "end")}
            <path class="limit" d="M{chart.X(warm.HotAtSeconds / 60)} {Chart.Top}V{chart.Base}"/><text class="unit" x="{chart.X(warm.HotAtSeconds / 60) + 4}" y="{Chart.Top + 10}">hot</text>
            {Html.Each(Ticks.Within(0, last, step), minute => Html.Of($"""<text class="tick-x" x="{chart.X(minute)}" y="{chart.Base + 14}">{Figures.Number(minute, Ticks.Decimals(step))}</text>"""))}
            {Curve(chart, warm, last)}
            {Html.Each(points.Zip(warm.Points), pair => Mark(chart.X(pair.First.Minutes), chart.Y(pair.First.Micrometres), pair.Second.Counted))}
            </svg>
            """);
    }

    private static Html Curve(Chart chart, WarmUpConclusion warm, double last)
    {
        if (warm.Curve is not { } curve)
        {
            return Html.Nothing;
        }

        double from = curve.FromSeconds / 60;
        Html line = Html.Each(Enumerable.Range(0, CurvePoints + 1), at =>
        {
            double minute = from + ((last - from) * at / CurvePoints);
            double height = curve.EndMm + (curve.AmplitudeMm * Math.Exp(-((minute * 60) - curve.FromSeconds) / curve.TimeConstantSeconds));
            return Html.Of($"{(at == 0 ? "M" : "L")}{chart.X(minute)} {chart.Y((height - warm.EndHeightMm) * MicrometresPerMm)}");
        });
        return Html.Of($"""<path class="trace" d="{line}"/>""");
    }

    private static Html Mark(double x, double y, bool counted) => counted
        ? Html.Of($"""<circle class="point" cx="{x}" cy="{y}" r="3"/>""")
        : Html.Of($"""<path class="point-odd" d="M{x - 3} {y}h6m-3 -3v6"/>""");

    private static string Describe(WarmUpConclusion warm) => FormattableString.Invariant($"{warm.Points.Length} touches in {warm.Points[^1].Seconds / 60:0} minutes. ")
        + $"The height moved by {Figures.SignedMm(warm.MovedMm)} from the first touch to its end.";
}
