namespace ProbeRunner.SimulatedPrinter.Time;

/// <summary>
/// The system's clock made faster or slower: with a speed of 50, a minute of this clock takes 1.2 s. Console and
/// simulated printer, in two processes, use the same speed, so that waits and deadlines keep their proportions.
/// </summary>
/// <param name="speed">Seconds of this clock per second of the underlying one; more than 0, at most 10,000.</param>
/// <param name="shortestTimer">
/// The least real time before any timer fires; none unless given. A busy computer can be late by tens of milliseconds:
/// deadlines of a fast clock use a second here, so that lateness is not taken for a silent controller.
/// </param>
/// <param name="underlying">The clock to scale; the system's unless given.</param>
public sealed class ScaledTime(double speed, TimeSpan shortestTimer = default, TimeProvider? underlying = null) : TimeProvider
{
    private readonly double _speed = speed is > 0 and <= 10_000
        ? speed
        : throw new ArgumentOutOfRangeException(nameof(speed), speed, "The speed must be more than 0 and at most 10,000.");

    private readonly TimeProvider _underlying = underlying ?? System;
    private readonly DateTimeOffset _startUtc = (underlying ?? System).GetUtcNow();
    private readonly long _startTimestamp = (underlying ?? System).GetTimestamp();

    /// <summary>Seconds of this clock per second of the underlying one.</summary>
    public double Speed => _speed;

    /// <inheritdoc/>
    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    /// <inheritdoc/>
    public override TimeZoneInfo LocalTimeZone => _underlying.LocalTimeZone;

    /// <inheritdoc/>
    public override long GetTimestamp() => Elapsed.Ticks;

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => _startUtc + Elapsed;

    /// <inheritdoc/>
    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
        new ScaledTimer(this, _underlying.CreateTimer(callback, state, ToReal(dueTime), ToReal(period)));

    private TimeSpan Elapsed => _underlying.GetElapsedTime(_startTimestamp) * _speed;

    private TimeSpan ToReal(TimeSpan scaled)
    {
        if (scaled == Timeout.InfiniteTimeSpan || scaled == TimeSpan.Zero)
        {
            return scaled;
        }

        var real = scaled / _speed;
        return real > shortestTimer ? real : shortestTimer;
    }

    private sealed class ScaledTimer(ScaledTime time, ITimer inner) : ITimer
    {
        public bool Change(TimeSpan dueTime, TimeSpan period) => inner.Change(time.ToReal(dueTime), time.ToReal(period));

        public void Dispose() => inner.Dispose();

        public ValueTask DisposeAsync() => inner.DisposeAsync();
    }
}
