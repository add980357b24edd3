namespace ProbeRunner.SimulatedPrinter.Time;

/// <summary>
/// A clock that stands still while there is work and jumps to the next due timer when there is none, so a night of
/// waiting takes as long as the work in it. One thread runs everything: the body and all its continuations are pumped
/// by a <see cref="SynchronizationContext"/> in the order they were posted, timers in the order (due time, creation),
/// so that two runs of the same body do the same things at the same instants.
/// </summary>
/// <remarks>
/// Awaits must come back to the pump: code that uses <c>ConfigureAwait(false)</c> or <c>Task.Run</c> leaves it and the
/// clock may jump ahead of that work. So do some of the platform's own methods, among them
/// <c>ChannelReader.ReadAllAsync</c> (loop over <c>WaitToReadAsync</c> and <c>TryRead</c> instead), <c>StreamReader</c>,
/// asynchronous files, and a resilience pipeline not told to continue on the captured context.
/// <see cref="ForeignPosts"/> counts what came back from other threads; a deterministic test asserts that it is zero.
/// Work that must leave is bracketed by <see cref="StandStill"/>.
/// </remarks>
public sealed class VirtualTime : TimeProvider
{
    /// <summary>How long of virtual time a run may take unless told otherwise: 60 days.</summary>
    public static readonly TimeSpan DefaultLimit = TimeSpan.FromDays(60);

    private static readonly TimeSpan DeadlockGrace = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan StandStillGrace = TimeSpan.FromMinutes(2);

    private readonly DateTimeOffset _start;
    private readonly TimerQueue _timers = new();
    private readonly WorkQueue _work = new();
    private readonly Lock _gate = new();
    private long _nowTicks;
    private int _standingStill;

    private VirtualTime(DateTimeOffset start) => _start = start;

    /// <summary>Virtual time since the run began.</summary>
    public TimeSpan Elapsed => TimeSpan.FromTicks(Volatile.Read(ref _nowTicks));

    /// <summary>Pieces of work that reached the pump from another thread; zero in a deterministic run.</summary>
    public int ForeignPosts => _work.ForeignPosts;

    /// <inheritdoc/>
    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    /// <inheritdoc/>
    public override TimeZoneInfo LocalTimeZone => TimeZoneInfo.Utc;

    /// <inheritdoc/>
    public override long GetTimestamp() => Volatile.Read(ref _nowTicks);

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => _start + Elapsed;

    /// <inheritdoc/>
    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        ArgumentNullException.ThrowIfNull(callback);
        var timer = new VirtualTimer(this, callback, state);
        timer.Change(dueTime, period);
        return timer;
    }

    /// <summary>Keeps the clock still until disposed, while real work is done on another thread.</summary>
    /// <returns>Dispose it, from any thread, when that work has been posted back.</returns>
    public IDisposable StandStill()
    {
        Interlocked.Increment(ref _standingStill);
        return new Release(this);
    }

    /// <summary>Runs a body to its end on virtual time, on the calling thread.</summary>
    /// <param name="body">What to run; it gets the clock to hand on.</param>
    /// <param name="limit">Virtual time it may take, more than zero; 60 days unless given. Catches a run that waits for ever on a ticking timer.</param>
    /// <param name="start">The wall clock at the beginning; 2026-01-05 06:00 UTC unless given.</param>
    /// <exception cref="VirtualDeadlockException">The body waits, nothing is queued and no timer is set.</exception>
    /// <exception cref="TimeoutException">The limit was passed.</exception>
    public static void Run(Func<VirtualTime, Task> body, TimeSpan? limit = null, DateTimeOffset? start = null)
    {
        ArgumentNullException.ThrowIfNull(body);
        var allowed = limit ?? DefaultLimit;
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(allowed, TimeSpan.Zero, nameof(limit));
        var time = new VirtualTime(start ?? new DateTimeOffset(2026, 1, 5, 6, 0, 0, TimeSpan.Zero));
        var before = SynchronizationContext.Current;
        SynchronizationContext.SetSynchronizationContext(time._work);
        try
        {
            time.Pump(body(time), allowed);
        }
        finally
        {
            SynchronizationContext.SetSynchronizationContext(before);
        }
    }

    /// <summary>Runs a body to its end on virtual time and returns its result; otherwise as <see cref="Run(Func{VirtualTime, Task}, TimeSpan?, DateTimeOffset?)"/>.</summary>
    public static T Run<T>(Func<VirtualTime, Task<T>> body, TimeSpan? limit = null, DateTimeOffset? start = null)
    {
        ArgumentNullException.ThrowIfNull(body);
        T result = default!;
        Run(async time => { result = await body(time); }, limit, start);
        return result;
    }

    internal void Schedule(VirtualTimer timer, TimeSpan dueTime)
    {
        lock (_gate)
        {
            _timers.Add(timer, _nowTicks + dueTime.Ticks);
        }
    }

    private void Pump(Task body, TimeSpan limit)
    {
        while (true)
        {
            _work.RunAll();
            if (body.IsCompleted)
            {
                body.GetAwaiter().GetResult();
                return;
            }

            if (Volatile.Read(ref _standingStill) > 0)
            {
                if (!_work.WaitForForeignWork(StandStillGrace))
                {
                    throw new VirtualDeadlockException(Elapsed, "work that asked the clock to stand still never came back");
                }

                continue;
            }

            FireNext(limit);
        }
    }

    private void FireNext(TimeSpan limit)
    {
        VirtualTimer? timer;
        lock (_gate)
        {
            if (_timers.TryTake(out timer, out var due))
            {
                _nowTicks = Math.Max(_nowTicks, due);
            }
        }

        if (timer is null)
        {
            if (!_work.WaitForForeignWork(DeadlockGrace))
            {
                throw new VirtualDeadlockException(Elapsed, "nothing is queued and no timer is set");
            }
        }
        else if (Elapsed > limit)
        {
            throw new TimeoutException($"The run was still going after {limit} of virtual time.");
        }
        else
        {
            timer.Fire();
        }
    }

    private sealed class Release(VirtualTime time) : IDisposable
    {
        private int _released;

        public void Dispose()
        {
            if (Interlocked.Exchange(ref _released, 1) == 0)
            {
                Interlocked.Decrement(ref time._standingStill);
                time._work.Wake();
            }
        }
    }
}
