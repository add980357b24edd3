using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Pictures;

/// <summary>Readings at one place in order, as deviations from their mean, with the limits within which nearly all should lie.</summary>
internal static class SeriesPlot
{
    private const double MicrometresPerMm = 1000;

    /// <summary>Draws a series.</summary>
    /// <param name="series">What was found; at least one reading.</param>
    public static Html Draw(SeriesConclusion series)
    {
        double limit = 3 * series.SigmaMm * MicrometresPerMm;
        double[] deviations = [.. series.Readings.Select(reading => (reading.Z - series.MeanMm) * MicrometresPerMm)];
        double reach = 1.15 * Math.Max(Math.Max(limit, deviations.Select(Math.Abs).Max()), 1);
        var chart = new Chart(640, 250, 0.5, deviations.Length + 0.5, -reach, reach);
        double step = Math.Max(1, Ticks.Step(deviations.Length, 8));
        Html numbers = Html.Each(Ticks.Within(1, deviations.Length, step), number => Html.Of(
            $"""<text class="tick-x" x="{chart.X(number)}" y="{chart.Base + 14}">{number}</text>"""));
        Html line = Html.Each(deviations.Index(), item => Html.Of($"{(item.Index == 0 ? "M" : "L")}{chart.X(item.Index + 1)} {chart.Y(item.Item)}"));
        Html points = Html.Each(deviations.Index(), item => Point(chart, item.Index + 1, item.Item, Math.Abs(item.Item) > limit, series.Readings[item.Index].Suspect));
        return Html.Of($"""
            <svg class="chart" viewBox="0 0 640 250" role="img" aria-labelledby="series-title series-text">
            <title id="series-title">Readings at one place, in order</title>
            <desc id="series-text">{Describe(series)}</desc>
            {chart.Frame("reading", "from the mean, µm")}
            <rect class="limit-band" x="{Chart.Left}" y="{chart.Y(limit)}" width="{chart.End - Chart.Left}" height="{chart.Y(-limit) - chart.Y(limit)}"/>
            {chart.Level(limit, "limit", "+3 s")}{chart.Level(0, "mean", "mean")}{chart.Level(-limit, "limit", "\u22123 s")}
            {numbers}<path class="trace" d="{line}"/>{points}
            </svg>
            """);
    }

    private static string Describe(SeriesConclusion series)
    {
        double low = series.Readings.Min(reading => reading.Z) - series.MeanMm;
        double high = series.Readings.Max(reading => reading.Z) - series.MeanMm;
        return FormattableString.Invariant($"{series.Readings.Length} readings")
            + $" from {Figures.SignedMm(low, 4)} to {Figures.SignedMm(high, 4)} about their mean of {Figures.Mm(series.MeanMm, 4)}; standard deviation {Figures.Mm(series.SigmaMm, 4)}.";
    }

    private static Html Point(Chart chart, double number, double deviation, bool beyond, bool suspect) => beyond || suspect
        ? Html.Of($"""<path class="point-odd" d="M{chart.X(number) - 5} {chart.Y(deviation) - 5}l10 10m0 -10l-10 10"/>""")
        : Html.Of($"""<circle class="point" cx="{chart.X(number)}" cy="{chart.Y(deviation)}" r="3.4"/>""");
}
