using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Watches;

/// <summary>What the machine is doing just now, for the watches: while it is busy, its reports may stop.</summary>
internal sealed class WorkInHand(TimeProvider time)
{
    /// <summary>What the engine does by itself before a request, homing above all, takes no longer than a homing.</summary>
    private static readonly TimeSpan Restoring = TimeSpan.FromMinutes(6);

    private readonly Lock _gate = new();
    private TimeSpan? _longestSilence;
    private long _idleSince = time.GetTimestamp();

    /// <summary>A request is performed from now on.</summary>
    public void Begin(Request request) => Set(request.MeetsMachine ? request.LongestSilence : null);

    /// <summary>The machine is brought back to where a resumed run left it.</summary>
    public void BeginRestoring() => Set(Restoring);

    /// <summary>It is done; the next report can be asked for now.</summary>
    public void End()
    {
        lock (_gate)
        {
            (_longestSilence, _idleSince) = (null, time.GetTimestamp());
        }
    }

    /// <summary>Whether a report that came so long ago is too old for what the machine does.</summary>
    /// <param name="age">Since the last report.</param>
    /// <param name="allowed">How old it may be while the machine is free to report.</param>
    public bool MakesTooOld(TimeSpan age, TimeSpan allowed)
    {
        lock (_gate)
        {
            return _longestSilence is { } busy
                ? age > allowed + busy
                : age > allowed && time.GetElapsedTime(_idleSince) > allowed;
        }
    }

    private void Set(TimeSpan? longestSilence)
    {
        lock (_gate)
        {
            _longestSilence = longestSilence;
        }
    }
}
