using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Reach;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>
/// Ways between places. The clearance height need not be above a clip, so a way that would pass over one goes round by the bed's
/// middle; every other way is left to the touch itself.
/// </summary>
internal sealed class GridTravel(StepContext context, ReachableArea reach, ProbeOffset offset)
{
    private BedPoint? _last;

    /// <summary>Goes round whatever lies on the straight way to a place.</summary>
    public async Task ToAsync(BedPoint place)
    {
        BedPoint from = _last ?? context.Profile.Travel.HomingPlace;
        _last = place;
        if (reach.IsWayClear(from, place))
        {
            return;
        }

        double middle = (reach.Bounds.MinY + reach.Bounds.MaxY) / 2;
        await context.DoAsync(new LiftToClearance());
        await context.DoAsync(new MoveNozzle(NozzleAt(new BedPoint(from.X, middle))));
        await context.DoAsync(new MoveNozzle(NozzleAt(new BedPoint(place.X, middle))));
    }

    private BedPoint NozzleAt(BedPoint probe) => new(probe.X - offset.X, probe.Y - offset.Y);
}
