using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Pictures;

/// <summary>Nozzle-to-trigger distance at each visited place along an axis, as the change from the homing place, with the fitted line.</summary>
internal static class LeanPlot
{
    private const double LeastReachMm = 0.02;

    /// <summary>Draws one axis; at least one visit.</summary>
    public static Html Draw(LeanAlongAxis axis)
    {
        (double At, double ChangeMm)[] visits =
        [
            .. axis.Visits.Select(visit => (axis.Axis == "X" ? visit.Place.X : visit.Place.Y, visit.TouchOverDragMm - axis.TriggerAtOriginMm)),
        ];
        double reach = 1.15 * Math.Max(LeastReachMm, visits.Max(visit => Math.Abs(visit.ChangeMm)));
        reach = Math.Max(reach, 1.05 * Math.Max(Math.Abs(axis.AtNearSideMm), Math.Abs(axis.AtFarSideMm)));
        var chart = new Chart(640, 250, 0, axis.LengthMm, -reach, reach);
        double step = Ticks.Step(axis.LengthMm, 6);
        Html numbers = Html.Each(Ticks.Within(0, axis.LengthMm, step), at => Html.Of(
            $"""<text class="tick-x" x="{chart.X(at)}" y="{chart.Base + 14}">{Figures.Number(at, 0)}</text>"""));
        Html points = Html.Each(visits, visit => Html.Of($"""<circle class="point" cx="{chart.X(visit.At)}" cy="{chart.Y(visit.ChangeMm)}" r="3.4"/>"""));
        string id = $"lean-{axis.Axis}";
        return Html.Of($"""
            <svg class="chart" viewBox="0 0 640 250" role="img" aria-labelledby="{id}-title {id}-text">
            <title id="{id}-title">Nozzle-to-trigger distance along {axis.Axis}</title>
            <desc id="{id}-text">{axis.Visits.Length} visits; the distance changes by {Figures.SignedMm(axis.AtNearSideMm)} at one side of the bed and by {Figures.SignedMm(axis.AtFarSideMm)} at the other.</desc>
            {chart.Frame($"{axis.Axis}, mm", "change, mm")}
            {chart.Level(0, "limit", "as at home")}
            <path class="mean" d="M{chart.X(0)} {chart.Y(axis.AtNearSideMm)}L{chart.X(axis.LengthMm)} {chart.Y(axis.AtFarSideMm)}"/>
            {numbers}{points}
            </svg>
            """);
    }
}
