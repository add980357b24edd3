namespace ProbeRunner.Procedures.Engine;

/// <summary>Where a run stands between going on and having ended.</summary>
public enum RunPhase
{
    /// <summary>Going on.</summary>
    Running,

    /// <summary>A hold was asked for; the motion in hand is being finished.</summary>
    HoldAsked,

    /// <summary>Held: lifted, probe retracted, waiting for a person's decision.</summary>
    Held,

    /// <summary>A stop was asked for. It latches.</summary>
    StopAsked,

    /// <summary>Halted. It latches.</summary>
    Halted,

    /// <summary>The run has ended.</summary>
    Ended,
}

/// <summary>
/// The three grades of stopping, callable from any thread at any time. Stop and halt latch: nothing moves again in this session.
/// A stop outranks a hold, a halt outranks both; a stop or hold asked for while the machine is already retreating changes nothing,
/// a halt ends the retreat too. A hold still pending when the last step ends is void: the run's end is at least as safe.
/// </summary>
public sealed class RunControl
{
    private readonly Lock _gate = new();
    private readonly Func<bool> _halt;
    private readonly Action _heatersOff;
    private readonly TaskCompletionSource _halted = New();
    private TaskCompletionSource _attention = New();
    private TaskCompletionSource _held = New();
    private TaskCompletionSource _released = New();
    private RunPhase _phase;
    private string _stopWhy = string.Empty;
    private bool _isFault;

    /// <param name="halt">Sends the halt line at once.</param>
    /// <param name="heatersOff">Hands heaters-off to the operating system at once, if a heater may be on.</param>
    internal RunControl(Func<bool> halt, Action heatersOff) => (_halt, _heatersOff) = (halt, heatersOff);

    /// <summary>What can be nudged now, for a screen's keys: a disabled key says why.</summary>
    public NudgeState Nudging => Nudges.State;

    /// <summary>Where nudges are asked for and taken.</summary>
    internal NudgeDesk Nudges { get; } = new();

    /// <summary>Where the run stands.</summary>
    public RunPhase Phase
    {
        get
        {
            lock (_gate)
            {
                return _phase;
            }
        }
    }

    /// <summary>Why a stop was asked for.</summary>
    internal string StopWhy
    {
        get
        {
            lock (_gate)
            {
                return _stopWhy;
            }
        }
    }

    /// <summary>Whether the stop was asked for by a watch, because something is wrong.</summary>
    internal bool IsFault
    {
        get
        {
            lock (_gate)
            {
                return _isFault;
            }
        }
    }

    /// <summary>Done as soon as something was asked for; a wait for the person is left then.</summary>
    internal Task Attention
    {
        get
        {
            lock (_gate)
            {
                return _attention.Task;
            }
        }
    }

    /// <summary>Done once the machine was halted.</summary>
    internal Task Halted => _halted.Task;

    /// <summary>Asks for a hold: the motion in hand is finished, then lift and retract.</summary>
    /// <returns>Done when the machine stands held, or when the run ends otherwise.</returns>
    public Task HoldAsync()
    {
        lock (_gate)
        {
            if (_phase == RunPhase.Running)
            {
                _phase = RunPhase.HoldAsked;
                _attention.TrySetResult();
            }

            return _phase is RunPhase.HoldAsked or RunPhase.StopAsked ? _held.Task : Task.CompletedTask;
        }
    }

    /// <summary>Ends a hold, or takes back one that was only asked for.</summary>
    /// <returns>Whether the run goes on; false when it was stopped, halted or has ended.</returns>
    public bool Resume()
    {
        lock (_gate)
        {
            if (_phase is RunPhase.HoldAsked or RunPhase.Held)
            {
                _phase = RunPhase.Running;
                _attention = New();
                _held.TrySetResult();
                _held = New();
                _released.TrySetResult();
            }

            return _phase == RunPhase.Running;
        }
    }

    /// <summary>Asks for a stop: the motion in hand is finished, then lift, retract, park, heaters off, end of the run.</summary>
    /// <param name="why">In a sentence, for the record.</param>
    public void Stop(string why = "The operator asked to stop.") => Stop(why, isFault: false);

    /// <summary>Stops in the same way because something is wrong; the run counts as failed, not as stopped by a person.</summary>
    /// <param name="why">What happened, what it means, what to do.</param>
    internal void Fail(string why) => Stop(why, isFault: true);

    private void Stop(string why, bool isFault)
    {
        lock (_gate)
        {
            if (_phase is not (RunPhase.Running or RunPhase.HoldAsked or RunPhase.Held))
            {
                return;
            }

            (_phase, _stopWhy, _isFault) = (RunPhase.StopAsked, why, isFault);
            _attention.TrySetResult();
            _released.TrySetResult();
        }

        // The motion in hand may take a while; the heaters don't wait for it.
        _heatersOff();
    }

    /// <summary>Sends the halt line at once, past everything, even after the run has ended. Never waits, never throws.</summary>
    /// <returns>Whether the operating system took the line; if not, only the mains switch is left.</returns>
    public bool Halt()
    {
        bool sent = _halt();
        lock (_gate)
        {
            if (_phase != RunPhase.Ended)
            {
                _phase = RunPhase.Halted;
            }

            _attention.TrySetResult();
            _released.TrySetResult();
            _halted.TrySetResult();
            _held.TrySetResult();
        }

        return sent;
    }

    /// <summary>
    /// Asks for the nozzle to be moved a fine step closer to the bed or farther from it while a first layer is laid. It is done before the
    /// next line and recorded. A key must not repeat it while it is held down.
    /// </summary>
    public NudgeReply Nudge(NudgeDirection direction) => Phase == RunPhase.Running ? Nudges.Ask(direction) : NudgeReply.NotLaying;

    /// <summary>The machine stands held now, unless something else was asked for meanwhile.</summary>
    /// <returns>Done when the hold ends in whichever way; null when there is nothing to wait for.</returns>
    internal Task? EnterHold()
    {
        lock (_gate)
        {
            if (_phase != RunPhase.HoldAsked)
            {
                return null;
            }

            _phase = RunPhase.Held;
            _released = New();
            _held.TrySetResult();
            return _released.Task;
        }
    }

    /// <summary>Leaves the work in hand when a stop or halt was asked for.</summary>
    internal void ThrowIfEnding()
    {
        switch (Phase)
        {
            case RunPhase.Halted:
                throw new HaltedException();
            case RunPhase.StopAsked:
                throw IsFault ? new WatchTrippedException(StopWhy) : new StopAskedException(StopWhy);
        }
    }

    /// <summary>The run has ended.</summary>
    internal void End()
    {
        lock (_gate)
        {
            _phase = _phase == RunPhase.Halted ? _phase : RunPhase.Ended;
            _held.TrySetResult();
        }
    }

    private static TaskCompletionSource New() => new(TaskCreationOptions.RunContinuationsAsynchronously);
}
