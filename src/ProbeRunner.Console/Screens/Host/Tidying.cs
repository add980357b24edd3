namespace ProbeRunner.Console.Screens.Host;

/// <summary>
/// When memory is given back to the system. The collector by itself waits for tens of megabytes before it looks, and keeps what a short heavy
/// piece of work (the map of a large capture, its report) once needed, for as long as a run goes on. So it is made to look when nothing has
/// happened for a while, and, also while a run goes on, when much more is held than after the last time. A look takes some tens of milliseconds,
/// and never comes in the moment after a key.
/// </summary>
/// <param name="time">The screens' clock.</param>
internal sealed class Tidying(TimeProvider time)
{
    private const int QuietLooks = 3;
    private const long WorthItWhenQuiet = 4L << 20;
    private const long WorthItAtWork = 48L << 20;
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromSeconds(5);
    private int quietLooks;
    private long tidiedAt;
    private long kept;
    private long lastLook = time.GetTimestamp();

    /// <summary>A person is at work.</summary>
    public void NotNow() => quietLooks = 0;

    /// <summary>Looks whether it is time.</summary>
    /// <param name="isQuiet">Whether nothing has happened since the last look.</param>
    public void Look(bool isQuiet)
    {
        quietLooks = isQuiet ? quietLooks + 1 : 0;
        if (quietLooks == QuietLooks)
        {
            if (GC.GetTotalAllocatedBytes() - tidiedAt > WorthItWhenQuiet)
            {
                Tidy();
            }

            return;
        }

        if (time.GetElapsedTime(lastLook) > BetweenLooks)
        {
            lastLook = time.GetTimestamp();
            if (GC.GetGCMemoryInfo(GCKind.Any).TotalCommittedBytes - kept > WorthItAtWork)
            {
                Tidy();
            }
        }
    }

    private void Tidy()
    {
        GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
        (tidiedAt, kept) = (GC.GetTotalAllocatedBytes(), GC.GetGCMemoryInfo(GCKind.Any).TotalCommittedBytes);
    }
}
