using ProbeRunner.Records.Store;

namespace ProbeRunner.Records.Runs;

/// <summary>The plate that lay on a machine's bed last, as its runs have it on record.</summary>
public static class LastPlate
{
    /// <summary>How many runs back are looked at: reading a run means reading its journal.</summary>
    private const int MostLookedAt = 10;

    /// <summary>Its name; empty when none of the newest runs has one on record.</summary>
    /// <param name="store">Where to look.</param>
    /// <param name="machine">The profile's name.</param>
    /// <param name="simulated">Whether of the simulated machine.</param>
    public static string Of(RunStore store, string machine, bool simulated)
    {
        ArgumentNullException.ThrowIfNull(store);
        return store.List()
            .Where(run => run.MachineName == machine && run.State is RunState.Ended or RunState.Interrupted)
            .OrderByDescending(run => run.StartedAt)
            .Take(MostLookedAt)
            .Select(run => store.ReadSoundPart(run.RunId))
            .Where(run => run.IsSimulated == simulated)
            .Select(run => run.Steps.Select(step => step.Conclusion?.TakenUnder?.Plate).LastOrDefault(plate => plate is { Length: > 0 }))
            .FirstOrDefault(plate => plate is not null) ?? string.Empty;
    }
}
