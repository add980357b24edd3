using ProbeRunner.SimulatedPrinter.Controller;

namespace ProbeRunner.SimulatedPrinter.Faults;

/// <summary>What happens in the middle of a stretch of motion.</summary>
internal enum MotionFault
{
    None,
    Reset,
    PullCable,
}

/// <summary>Watches the motion for the moments that the plan names: half-way through a stretch. Each happens once.</summary>
internal sealed class MotionFaults(FaultPlan plan)
{
    private bool _resetDone = plan.ResetAtMotion == 0;
    private bool _pullDone = plan.PullCableAtMotion == 0;
    private bool _linePullDone;
    private (MotionFault Fault, TimeSpan At)? _set;

    /// <summary>When the fault that is set happens.</summary>
    public TimeSpan? NextDue => _set?.At;

    /// <summary>Sets a fault when its stretch has begun, and says when it is time for it.</summary>
    public MotionFault Due(MotionTimeline timeline, TimeSpan now)
    {
        if (_set is null && timeline.NextDue is { } end)
        {
            var half = now + ((end - now) / 2);
            if (!_resetDone && timeline.Ordinal >= plan.ResetAtMotion)
            {
                (_resetDone, _set) = (true, (MotionFault.Reset, half));
            }
            else if (!_pullDone && timeline.Ordinal >= plan.PullCableAtMotion)
            {
                (_pullDone, _set) = (true, (MotionFault.PullCable, half));
            }
        }

        if (_set is not { } set || set.At > now)
        {
            return MotionFault.None;
        }

        _set = null;
        return set.Fault;
    }

    /// <summary>Whether the pull at a line is still to be done; it is from now on no more.</summary>
    public bool TakeLinePull()
    {
        var toDo = !_linePullDone;
        _linePullDone = true;
        return toDo;
    }
}
