using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Console.Screens.Watching;

/// <summary>The picture of a lean; while it is measured, the paper test of each place is shown.</summary>
internal static class LeanWatch
{
    /// <summary>Once it is concluded: the axis that leans most.</summary>
    public static LeanState Concluded(LeanConclusion concluded)
    {
        LeanAlongAxis axis = concluded.Axes.MaxBy(each => Math.Abs(each.SlopeMmPerMm))!;
        double Along(LeanVisit visit) => axis.Axis == "Y" ? visit.Place.Y : visit.Place.X;
        double centre = axis.Visits.Select(Along).DefaultIfEmpty(axis.OriginMm).Average();
        return new LeanState(
            axis.Axis == "Y" ? 'Y' : 'X',
            axis.LengthMm,
            [.. axis.Visits.Select(visit => new LeanPoint(Along(visit), visit.TouchOverDragMm, visit.StandardErrorMm))],
            new LeanLine(
                axis.TriggerAtOriginMm + (axis.SlopeMmPerMm * (centre - axis.OriginMm)), centre, axis.SlopeMmPerMm, axis.LowerMmPerMm, axis.UpperMmPerMm),
            concluded.ToleranceMm);
    }
}
