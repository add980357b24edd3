using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>
/// One capture under way: touches places, comes back to the reference point when it is due, and homes again when that is asked for.
/// What is due follows from the readings and their times alone, so that a resumed run goes the same way. An epoch that an interruption began costs
/// no further touch: its readings are tied to the others' by the surface that they share and by the next visit to the reference point.
/// </summary>
internal sealed class CapturePass(StepContext context, CaptureRule rule, BedPoint reference)
{
    private readonly JumpWatch _jumps = new(rule.JumpMm);
    private int _places;
    private int _sinceReference;
    private Reading? _lastReference;
    private Reading? _first;
    private Reading? _last;
    private int _referenceVisits;

    /// <summary>What was touched so far.</summary>
    public CaptureTally Tally { get; } = new(rule);

    /// <summary>Does what is due, then touches a place as often as the rule says.</summary>
    /// <returns>Its touches, in order.</returns>
    public async Task<IReadOnlyList<Reading>> TouchPlaceAsync(BedPoint place)
    {
        if (rule.HomeAgainEvery > 0 && _places > 0 && _places % rule.HomeAgainEvery == 0)
        {
            await context.DoAsync(new HomeAxes(Axes.Z));
            await VisitReferenceAsync();
        }
        else if (IsReferenceDue())
        {
            await VisitReferenceAsync();
        }

        List<Reading> touches = await TouchAsync(place, firstRepeat: 1);
        Tally.Add(touches);
        _jumps.Settle(Tally.Counting[^1]);
        (_places, _sinceReference) = (_places + 1, _sinceReference + 1);
        return touches;
    }

    /// <summary>Ends the capture with a last visit to the reference point, unless it was so short that none was due by time.</summary>
    public Task EndAsync() => rule.ReferenceEvery > 0 || (rule.Revisits && _lastReference is not null) ? VisitReferenceAsync() : Task.CompletedTask;

    private bool IsReferenceDue()
    {
        if (rule.ReferenceEvery > 0 && (_lastReference is null || _sinceReference >= rule.ReferenceEvery))
        {
            return true;
        }

        return rule.ReferenceMinutes > 0 && _last is { } last && (last.At - (_lastReference ?? _first!.Value).At).TotalMinutes >= rule.ReferenceMinutes;
    }

    private async Task VisitReferenceAsync()
    {
        // Numbered beyond those of the grid's own visit to this place.
        List<Reading> touches = await TouchAsync(reference, (++_referenceVisits * (rule.Touches + CaptureRule.MostExtra)) + 1);
        Tally.Add(touches);
        (_lastReference, _sinceReference) = (touches[^1], 0);
    }

    private async Task<List<Reading>> TouchAsync(BedPoint place, int firstRepeat)
    {
        var touches = new List<Reading>();
        int least = rule.Touches;
        while (touches.Count < least || (touches.Count > 1 && touches.Count < rule.Touches + CaptureRule.MostExtra && Tally.LeavesOpen(touches)))
        {
            if (rule.ExtraLiftMm > 0)
            {
                await context.DoAsync(new LiftHigher(rule.ExtraLiftMm));
            }

            Reading touch = await context.DoAsync(new TouchAt(place, firstRepeat + touches.Count) { PausedBedCelsius = rule.Heat.PausedBedCelsius });
            touches.Add(touch);
            (_first, _last) = (_first ?? touch, touch);
            least = touches.Count == 1 && _jumps.IsOdd(touch) ? Math.Max(least, 2) : least;
        }

        return touches;
    }
}
