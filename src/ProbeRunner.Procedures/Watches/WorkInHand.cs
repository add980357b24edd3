using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Watches;

/// <summary>What the machine is doing just now, for the watches: while it is busy, its reports may stop.</summary>
internal sealed class WorkInHand(TimeProvider time)
{
    private readonly Lock _gate = new();
    private Request? _request;
    private long _idleSince = time.GetTimestamp();

    /// <summary>A request is performed from now on.</summary>
    public void Begin(Request request)
    {
        lock (_gate)
        {
            _request = request.MeetsMachine ? request : null;
        }
    }

    /// <summary>It is done; the next report can be asked for now.</summary>
    public void End()
    {
        lock (_gate)
        {
            (_request, _idleSince) = (null, time.GetTimestamp());
        }
    }

    /// <summary>Whether a report that came so long ago is too old for what the machine does.</summary>
    /// <param name="age">Since the last report.</param>
    /// <param name="allowed">How old it may be while the machine is free to report.</param>
    public bool MakesTooOld(TimeSpan age, TimeSpan allowed)
    {
        lock (_gate)
        {
            return _request is { } request
                ? age > allowed + request.LongestSilence
                : age > allowed && time.GetElapsedTime(_idleSince) > allowed;
        }
    }
}
