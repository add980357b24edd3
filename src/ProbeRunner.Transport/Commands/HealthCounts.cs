namespace ProbeRunner.Transport.Commands;

/// <summary>The running counts behind <see cref="LinkHealth"/>; written from any thread.</summary>
internal sealed class HealthCounts
{
    private readonly Lock _gate = new();
    private readonly TimeSpan[] _roundTrips = new TimeSpan[256];
    private int _roundTripCount;

#pragma warning disable CA1051, SA1401 // Fields, because Interlocked needs their address.
    public long LinesSent;
    public long Resends;
    public long Errors;
    public long Silences;
    public long StrayLines;
    public long DiscardedLines;
#pragma warning restore CA1051, SA1401

    public void AddRoundTrip(TimeSpan roundTrip)
    {
        lock (_gate)
        {
            _roundTrips[_roundTripCount++ % _roundTrips.Length] = roundTrip;
        }
    }

    public LinkHealth Snapshot() => new(
        Interlocked.Read(ref LinesSent),
        Interlocked.Read(ref Resends),
        Interlocked.Read(ref Errors),
        Interlocked.Read(ref Silences),
        Interlocked.Read(ref StrayLines),
        Interlocked.Read(ref DiscardedLines),
        MedianRoundTrip());

    private TimeSpan MedianRoundTrip()
    {
        TimeSpan[] sorted;
        lock (_gate)
        {
            sorted = _roundTrips[..Math.Min(_roundTripCount, _roundTrips.Length)];
        }

        Array.Sort(sorted);
        return sorted.Length == 0 ? TimeSpan.Zero : sorted[sorted.Length / 2];
    }
}
