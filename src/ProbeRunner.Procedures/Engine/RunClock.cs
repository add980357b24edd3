namespace ProbeRunner.Procedures.Engine;

/// <summary>Time since the run began: across sessions by the wall clock, within one monotonic, and never backwards.</summary>
internal sealed class RunClock
{
    private readonly TimeProvider _time;
    private readonly long _sessionStart;
    private readonly TimeSpan _before;

    public RunClock(TimeProvider time, DateTimeOffset startedAt, TimeSpan lastRecorded)
    {
        _time = time;
        _sessionStart = time.GetTimestamp();
        TimeSpan byTheWall = time.GetUtcNow() - startedAt;
        _before = byTheWall > lastRecorded ? byTheWall : lastRecorded;
    }

    /// <summary>Lets a time pass by this clock.</summary>
    public Task PassAsync(TimeSpan time, CancellationToken cancel) => Task.Delay(time, _time, cancel);

    /// <summary>Since the run began.</summary>
    public TimeSpan Elapsed => _before + _time.GetElapsedTime(_sessionStart);
}
