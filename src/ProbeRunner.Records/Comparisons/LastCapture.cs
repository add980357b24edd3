using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Records.Comparisons;

/// <summary>A run that captured the bed, beside the capture before it.</summary>
public static class LastCapture
{
    /// <summary>How many runs back are looked at: reading a run means reading its journal.</summary>
    private const int MostLookedAt = 20;

    /// <summary>What changed since the machine's last capture before this run; null when this run has no sound capture, or there is none before it.</summary>
    /// <param name="store">Where the runs are.</param>
    /// <param name="run">The later run.</param>
    public static RunComparison? ComparedWith(RunStore store, RunRecord run)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(run);
        if (EarlierCaptures.Of(run) is null)
        {
            return null;
        }

        RunRecord? before = store.List()
            .Where(other => other.MachineName == run.Header.MachineName && other.StartedAt < run.Header.StartedAt && other.Outcome is RunOutcome.Completed)
            .OrderByDescending(other => other.StartedAt)
            .Take(MostLookedAt)
            .Select(other => store.ReadSoundPart(other.RunId))
            .FirstOrDefault(other => other.DamagedFrom is null && other.IsSimulated == run.IsSimulated && EarlierCaptures.Of(other) is not null);
        return before is null ? null : RunComparison.Of(before, run);
    }
}
