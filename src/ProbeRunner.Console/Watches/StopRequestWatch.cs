using ProbeRunner.Procedures.Watches;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Console.Watches;

/// <summary>Sees that somebody asked from another terminal that the run be stopped.</summary>
internal sealed class StopRequestWatch : IRunWatch
{
    private static readonly TimeSpan Between = TimeSpan.FromMilliseconds(200);

    private readonly RunStore store;
    private readonly string runId;
    private readonly TimeProvider time;
    private long last;

    /// <summary>Looks from now on; what was asked of an earlier session is void.</summary>
    public StopRequestWatch(RunStore store, string runId, TimeProvider time)
    {
        (this.store, this.runId, this.time) = (store, runId, time);
        StopRequests.Take(store, runId);
    }

    /// <inheritdoc />
    public Sight Look()
    {
        if (time.GetElapsedTime(last) < Between)
        {
            return Sight.Well;
        }

        last = time.GetTimestamp();
        return StopRequests.Take(store, runId) ? new Sight(null, Asked: "Somebody asked to stop it from another terminal.") : Sight.Well;
    }
}
