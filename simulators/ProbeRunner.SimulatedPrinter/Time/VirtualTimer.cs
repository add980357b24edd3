namespace ProbeRunner.SimulatedPrinter.Time;

/// <summary>A timer of <see cref="VirtualTime"/>. Its callback runs on the pump.</summary>
internal sealed class VirtualTimer(VirtualTime time, TimerCallback callback, object? state) : ITimer
{
    private TimeSpan _period = Timeout.InfiniteTimeSpan;
    private int _version;

    /// <summary>Changes with every re-arming; an entry of the queue with another version is dead.</summary>
    public int Version => Volatile.Read(ref _version);

    public bool Change(TimeSpan dueTime, TimeSpan period)
    {
        Interlocked.Increment(ref _version);
        _period = period;
        if (dueTime != Timeout.InfiniteTimeSpan)
        {
            ArgumentOutOfRangeException.ThrowIfLessThan(dueTime, TimeSpan.Zero);
            time.Schedule(this, dueTime);
        }

        return true;
    }

    public void Fire()
    {
        if (_period > TimeSpan.Zero)
        {
            time.Schedule(this, _period);
        }

        callback(state);
    }

    public void Dispose() => Interlocked.Increment(ref _version);

    public ValueTask DisposeAsync()
    {
        Dispose();
        return ValueTask.CompletedTask;
    }
}
