using System.Collections.Immutable;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Pictures;

/// <summary>Every height at which the person was asked, one column a take, each answer by its own shape; the estimate is the line across.</summary>
internal static class StepDownLadder
{
    /// <summary>Half of the heights that are drawn, mm: what was asked far above, on the way down, would squeeze the place that matters.</summary>
    private const double LeastReachMm = 0.06;

    /// <summary>The answers near enough to the estimate to be drawn.</summary>
    public static ImmutableArray<FeltHeight> Drawn(StepDownConclusion stepDown)
    {
        double reach = Math.Max(LeastReachMm, 5 * stepDown.StandardUncertaintyMm);
        return [.. stepDown.Answers.Where(answer => Math.Abs(answer.HeightMm - stepDown.DragHeightMm) <= reach)];
    }

    /// <summary>Draws a step-down.</summary>
    /// <param name="stepDown">What was found; at least one answer near the estimate.</param>
    public static Html Draw(StepDownConclusion stepDown)
    {
        ImmutableArray<FeltHeight> drawn = Drawn(stepDown);
        double[] heights = [.. drawn.Select(answer => answer.HeightMm), stepDown.DragHeightMm];
        double room = Math.Max(0.01, (heights.Max() - heights.Min()) * 0.08);
        int takes = stepDown.Answers.Max(answer => answer.Take);
        var chart = new Chart(640, 420, 0.5, takes + 0.5, heights.Min() - room, heights.Max() + room);
        double expanded = 2 * stepDown.StandardUncertaintyMm;
        double bandTop = Math.Max(chart.Y(stepDown.DragHeightMm + expanded), Chart.Top);
        double bandEnd = Math.Min(chart.Y(stepDown.DragHeightMm - expanded), chart.Base);
        Html columns = Html.Each(Enumerable.Range(1, takes), take => Html.Of(
            $"""<path class="grid" d="M{chart.X(take)} {Chart.Top}V{chart.Base}"/><text class="tick-x" x="{chart.X(take)}" y="{chart.Base + 14}">{take}</text>"""));
        return Html.Of($"""
            <svg class="chart" viewBox="0 0 640 420" role="img" aria-labelledby="ladder-title ladder-text">
            <title id="ladder-title">Heights asked and what the paper did</title>
            <desc id="ladder-text">{Describe(stepDown)}</desc>
            {chart.Frame("take", "nozzle Z, mm", 8)}{columns}
            <rect class="limit-band" x="{Chart.Left}" y="{bandTop}" width="{chart.End - Chart.Left}" height="{Math.Max(0, bandEnd - bandTop)}"/>
            {chart.Level(stepDown.DragHeightMm, "mean", "drag begins")}
            {Html.Each(drawn, answer => Mark(chart.X(answer.Take), chart.Y(answer.HeightMm), answer.Felt))}
            {Key(chart)}
            </svg>
            """);
    }

    private static string Describe(StepDownConclusion stepDown) => FormattableString.Invariant($"{stepDown.Answers.Length} answers in {stepDown.Answers.Max(answer => answer.Take)} takes: ")
        + FormattableString.Invariant($"{stepDown.Answers.Count(answer => answer.Felt == "free")} free, {stepDown.Answers.Count(answer => answer.Felt == "drags")} drags, ")
        + FormattableString.Invariant($"{stepDown.Answers.Count(answer => answer.Felt == "pinched")} pinched. ")
        + $"Drag begins at {Figures.Mm(stepDown.DragHeightMm)}.";

    private static Html Mark(double x, double y, string felt) => felt switch
    {
        "free" => Html.Of($"""<circle class="felt-free" cx="{x}" cy="{y}" r="5"/>"""),
        "pinched" => Html.Of($"""<path class="felt-pinched" d="M{x - 6} {y - 5}h12l-6 11z"/>"""),
        _ => Html.Of($"""<rect class="felt-drags" x="{x - 4.5}" y="{y - 4.5}" width="9" height="9"/>"""),
    };

    private static Html Key(Chart chart)
    {
        (string Felt, string Name)[] kinds = [("free", "free"), ("drags", "drags"), ("pinched", "pinched")];
        return Html.Each(kinds.Index(), kind => Html.Of(
            $"""{Mark(chart.End + 14, Chart.Top + 10 + (kind.Index * 20), kind.Item.Felt)}<text class="unit" x="{chart.End + 24}" y="{Chart.Top + 14 + (kind.Index * 20)}">{kind.Item.Name}</text>"""));
    }
}
