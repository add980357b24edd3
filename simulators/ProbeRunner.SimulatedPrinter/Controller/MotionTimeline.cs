using ProbeRunner.SimulatedPrinter.Physics;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>
/// What moves when: queued moves one after the other, then the long command (homing, a touch, a dwell) that waits behind them.
/// A long command is a sequence of phases; the next one is worked out when the one before it has ended.
/// </summary>
internal sealed class MotionTimeline(PrinterBody body, ControllerState state)
{
    private Queue<Phase> _moves = new();
    private IEnumerator<Phase>? _long;
    private Phase? _phase;
    private TimeSpan _phaseStart;
    private TimeSpan _phaseEnd;

    /// <summary>Moves that wait behind the one under way.</summary>
    public int Waiting => _moves.Count;

    /// <summary>Whether a long command runs or waits for the moves before it.</summary>
    public bool IsInLongCommand => _long is not null;

    /// <summary>Whether anything moves or will.</summary>
    public bool IsBusy => _phase is not null || _moves.Count > 0 || _long is not null;

    /// <summary>When the phase under way ends.</summary>
    public TimeSpan? NextDue => _phase is null ? null : _phaseEnd;

    /// <summary>When the last phase ended.</summary>
    public TimeSpan LastEnd { get; private set; }

    /// <summary>Phases begun so far.</summary>
    public long Ordinal { get; private set; }

    public void Enqueue(Phase move) => _moves.Enqueue(move);

    public void Begin(IEnumerable<Phase> longCommand) => _long = longCommand.GetEnumerator();

    /// <summary>Ends what is due and begins what comes next.</summary>
    /// <returns>What happened; <see cref="TimelineStep.Nothing"/> when there is nothing to do before <see cref="NextDue"/>.</returns>
    public TimelineStep Step(TimeSpan now)
    {
        if (_phase is { } phase)
        {
            if (_phaseEnd > now)
            {
                return TimelineStep.Nothing;
            }

            Finish(phase);
            LastEnd = _phaseEnd;
            _phase = null;
            return BeginNext(_phaseEnd);
        }

        return BeginNext(now);
    }

    /// <summary>Stops in the middle; nothing that waited is done any more.</summary>
    public void Abort(TimeSpan now)
    {
        if (_phase is { } phase)
        {
            var share = phase.Seconds > 0 ? Math.Clamp((now - _phaseStart).TotalSeconds / phase.Seconds, 0, 1) : 1;
            body.Move(Axes3.Between(body.Motor, phase.Target ?? body.Motor, share), phase.Seconds * share, phase.IsHoming);
        }

        _phase = null;
        _moves.Clear();
        _long = null;
        LastEnd = now;
    }

    private TimelineStep BeginNext(TimeSpan start)
    {
        if (_moves.TryDequeue(out var move))
        {
            return Start(move, start);
        }

        if (_long is null)
        {
            return TimelineStep.Nothing;
        }

        if (_long.MoveNext())
        {
            return Start(_long.Current, start);
        }

        _long = null;
        LastEnd = start;
        return TimelineStep.LongCommandEnded;
    }

    private void Finish(Phase phase)
    {
        var start = body.Motor;
        var lost = body.Move(phase.Target ?? start, phase.Seconds, phase.IsHoming);
        if (!phase.IsHoming && lost != default)
        {
            state.LoseSteps(lost);
            _moves = new Queue<Phase>(_moves.Select(move => move with { Target = move.Target + lost }));
        }

        if (phase.LaysPlastic)
        {
            var middle = Axes3.Between(start, body.Motor, 0.5);
            state.Laid.Lay(middle.X, middle.Y, body.GapMm);
            state.Laid.Lay(body.Motor.X, body.Motor.Y, body.GapMm);
        }
    }

    private TimelineStep Start(Phase phase, TimeSpan start)
    {
        Ordinal++;
        _phase = phase;
        _phaseStart = start;
        _phaseEnd = start + TimeSpan.FromSeconds(phase.Seconds);
        return TimelineStep.Progressed;
    }
}

/// <summary>What a step of the timeline did.</summary>
internal enum TimelineStep
{
    Nothing,
    Progressed,
    LongCommandEnded,
}
