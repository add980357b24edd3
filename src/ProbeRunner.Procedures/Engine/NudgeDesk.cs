namespace ProbeRunner.Procedures.Engine;

/// <summary>Which way the nozzle is moved while a first layer is laid.</summary>
public enum NudgeDirection
{
    /// <summary>Nearer to the bed.</summary>
    Closer,

    /// <summary>Away from the bed.</summary>
    Farther,
}

/// <summary>What became of a wish to nudge.</summary>
public enum NudgeReply
{
    /// <summary>It is done before the next line is laid.</summary>
    Taken,

    /// <summary>Nothing is being laid.</summary>
    NotLaying,

    /// <summary>Another one still waits for the end of the line in hand: one nudge a line, so that a key held down does no harm.</summary>
    OneAtATime,

    /// <summary>All nudges together would be more than 0.2 mm.</summary>
    AtTheLimit,
}

/// <summary>What can be nudged now, for a screen's keys.</summary>
/// <param name="IsLaying">Whether lines are being laid.</param>
/// <param name="StepMm">How far one nudge goes, mm.</param>
/// <param name="TotalMm">All nudges so far, mm, up positive.</param>
/// <param name="Waiting">The one that waits for the end of the line in hand; null when none does.</param>
public readonly record struct NudgeState(bool IsLaying, double StepMm, double TotalMm, NudgeDirection? Waiting);

/// <summary>Where nudges are asked for, from any thread, and taken by whatever lays lines, between two of them.</summary>
internal sealed class NudgeDesk
{
    /// <summary>All nudges together go no farther than this either way, mm; the motion guard holds the same.</summary>
    public const double RangeMm = 0.2;

    private const double RoundingMm = 1e-6;

    private readonly Lock _gate = new();
    private NudgeState _state;

    /// <summary>What can be nudged now.</summary>
    public NudgeState State
    {
        get
        {
            lock (_gate)
            {
                return _state;
            }
        }
    }

    /// <summary>Asks for a nudge.</summary>
    public NudgeReply Ask(NudgeDirection direction)
    {
        lock (_gate)
        {
            NudgeReply reply = !_state.IsLaying ? NudgeReply.NotLaying
                : _state.Waiting is not null ? NudgeReply.OneAtATime
                : Math.Abs(_state.TotalMm + By(direction)) > RangeMm + RoundingMm ? NudgeReply.AtTheLimit
                : NudgeReply.Taken;
            _state = reply == NudgeReply.Taken ? _state with { Waiting = direction } : _state;
            return reply;
        }
    }

    /// <summary>Lines are laid from now on.</summary>
    /// <param name="stepMm">How far one nudge goes.</param>
    /// <param name="totalMm">Nudges that the lines' heights have in them already.</param>
    public void Open(double stepMm, double totalMm)
    {
        lock (_gate)
        {
            _state = new NudgeState(true, stepMm, totalMm, null);
        }
    }

    /// <summary>Nothing is laid any more; a nudge that still waits is dropped.</summary>
    public void Close()
    {
        lock (_gate)
        {
            _state = default;
        }
    }

    /// <summary>Takes the nudge that waits.</summary>
    /// <returns>How far, mm, up positive; 0 when none waits.</returns>
    public double Take()
    {
        lock (_gate)
        {
            double by = _state.Waiting is { } direction ? By(direction) : 0;
            _state = _state with { Waiting = null };
            return by;
        }
    }

    /// <summary>A nudge was done.</summary>
    /// <returns>All of them together, mm.</returns>
    public double Did(double byMm)
    {
        lock (_gate)
        {
            _state = _state with { TotalMm = _state.TotalMm + byMm };
            return _state.TotalMm;
        }
    }

    private double By(NudgeDirection direction) => direction == NudgeDirection.Closer ? -_state.StepMm : _state.StepMm;
}
