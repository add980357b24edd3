using System.Threading.Tasks.Sources;

namespace ProbeRunner.Transport.Commands;

/// <summary>
/// Hands received lines to the one conversation under way, each wait with a deadline. A failure (reset, halt, lost link) is reported
/// after the lines that came before it, again and again, until it is cleared: it is a state, not an event.
/// Between conversations lines are not kept.
/// </summary>
internal sealed class LineInbox : IValueTaskSource<HeardLine>, IDisposable
{
    private readonly Lock _gate = new();
    private readonly Queue<HeardLine> _lines = new();
    private readonly TimeProvider _time;
    private readonly ITimer _timer;

    // A continuation runs on the thread that brings the line (or in the synchronization context that it waited in): the conversation is
    // quick, never blocks, and hands its result over on another thread.
    private ManualResetValueTaskSourceCore<HeardLine> _arrival = new() { RunContinuationsAsynchronously = false };
    private CancellationTokenRegistration _cancelRegistration;
    private bool _listening;
    private bool _waiting;
    private long _due;
    private Exception? _failure;

    public LineInbox(TimeProvider time)
    {
        _time = time;
        _timer = time.CreateTimer(static inbox => ((LineInbox)inbox!).OnTimer(), this, Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
    }

    /// <summary>The standing failure; null when all is well.</summary>
    public Exception? Failure
    {
        get
        {
            lock (_gate)
            {
                return _failure;
            }
        }
    }

    /// <summary>A conversation begins: lines are kept for it from now on.</summary>
    public void BeginListening()
    {
        lock (_gate)
        {
            _listening = true;
        }
    }

    /// <summary>The conversation ends.</summary>
    /// <param name="leftovers">Gets the lines that it did not take.</param>
    public void EndListening(List<HeardLine> leftovers)
    {
        lock (_gate)
        {
            _listening = false;
            while (_lines.TryDequeue(out HeardLine line))
            {
                leftovers.Add(line);
            }
        }
    }

    /// <summary>Lines that arrived together.</summary>
    /// <returns>False when no conversation is under way: the lines are nobody's.</returns>
    public bool Post(List<HeardLine> lines)
    {
        HeardLine first;
        lock (_gate)
        {
            if (!_listening)
            {
                return false;
            }

            foreach (HeardLine line in lines)
            {
                _lines.Enqueue(line);
            }

            if (!_waiting || !_lines.TryDequeue(out first))
            {
                return true;
            }

            _waiting = false;
        }

        _arrival.SetResult(first);
        return true;
    }

    /// <summary>Sets the standing failure, unless one that outlasts it stands already.</summary>
    /// <returns>Whether it was set.</returns>
    public bool Fail(Exception failure, Func<Exception, bool> replaces)
    {
        lock (_gate)
        {
            if (_failure is not null && !replaces(_failure))
            {
                return false;
            }

            _failure = failure;
            if (!_waiting)
            {
                return true;
            }

            _waiting = false;
        }

        _arrival.SetException(failure);
        return true;
    }

    /// <summary>Clears the standing failure, unless it is final.</summary>
    public void ClearFailure(Func<Exception, bool> isFinal)
    {
        lock (_gate)
        {
            if (_failure is not null && !isFinal(_failure))
            {
                _failure = null;
            }
        }
    }

    /// <summary>The next line, or silence once the clock's timestamp has reached <paramref name="due"/>.</summary>
    public ValueTask<HeardLine> NextAsync(long due, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        lock (_gate)
        {
            if (_lines.TryDequeue(out HeardLine line))
            {
                return ValueTask.FromResult(line);
            }

            if (_failure is not null)
            {
                return ValueTask.FromException<HeardLine>(_failure);
            }

            if (Remaining(due) <= TimeSpan.Zero)
            {
                return ValueTask.FromResult(HeardLine.Silence);
            }

            _arrival.Reset();
            _waiting = true;
            _due = due;
        }

        var pending = new ValueTask<HeardLine>(this, _arrival.Version);
        ArmTimer();
        _cancelRegistration = cancel.UnsafeRegister(static (inbox, token) => ((LineInbox)inbox!).Cancel(token), this);
        return pending;
    }

    /// <inheritdoc/>
    public void Dispose() => _timer.Dispose();

    HeardLine IValueTaskSource<HeardLine>.GetResult(short token)
    {
        _cancelRegistration.Dispose();
        _timer.Change(Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
        return _arrival.GetResult(token);
    }

    ValueTaskSourceStatus IValueTaskSource<HeardLine>.GetStatus(short token) => _arrival.GetStatus(token);

    void IValueTaskSource<HeardLine>.OnCompleted(
        Action<object?> continuation, object? state, short token, ValueTaskSourceOnCompletedFlags flags)
        => _arrival.OnCompleted(continuation, state, token, flags);

    private TimeSpan Remaining(long due) => _time.GetElapsedTime(_time.GetTimestamp(), due);

    private void ArmTimer()
    {
        // Rounded up to whole milliseconds: a timer of the system counts in those and must not fire early again and again.
        double milliseconds = Math.Ceiling(Math.Max(0, Remaining(_due).TotalMilliseconds));
        _timer.Change(TimeSpan.FromMilliseconds(milliseconds), Timeout.InfiniteTimeSpan);
    }

    private void OnTimer()
    {
        lock (_gate)
        {
            if (!_waiting)
            {
                return;
            }

            if (Remaining(_due) > TimeSpan.Zero)
            {
                // Left over from an earlier wait, or early.
                ArmTimer();
                return;
            }

            _waiting = false;
        }

        _arrival.SetResult(HeardLine.Silence);
    }

    private void Cancel(CancellationToken token)
    {
        lock (_gate)
        {
            if (!_waiting)
            {
                return;
            }

            _waiting = false;
        }

        _arrival.SetException(new OperationCanceledException(token));
    }
}
