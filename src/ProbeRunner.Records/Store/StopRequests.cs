namespace ProbeRunner.Records.Store;

/// <summary>
/// Asking a run that another process works on to stop: a file beside its lock, which only the user the store belongs to can make. The
/// process takes the file away when it has seen it.
/// </summary>
public static class StopRequests
{
    /// <summary>Asks. Nothing is said to the machine by this process.</summary>
    /// <exception cref="StoreUnusableException">Nobody works on that run, or the file cannot be made.</exception>
    public static void Ask(RunStore store, string runId)
    {
        ArgumentNullException.ThrowIfNull(store);
        if (!RunId.IsValid(runId) || !RunLease.IsHeld(store.Path, runId))
        {
            throw new StoreUnusableException($"Run {Text.VisibleText.Of(runId)} is not being worked on by any program, so there is nothing to stop.");
        }

        try
        {
            File.WriteAllText(FileOf(store, runId), string.Empty);
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            throw new StoreUnusableException($"The request cannot be written beside the store: {refused.Message} Ask the user who began the run, or press Ctrl-C where it runs.", refused);
        }
    }

    /// <summary>Whether an asked-for stop has not been seen yet.</summary>
    public static bool IsWaiting(RunStore store, string runId)
    {
        ArgumentNullException.ThrowIfNull(store);
        return File.Exists(FileOf(store, runId));
    }

    /// <summary>Takes a request away.</summary>
    /// <returns>Whether there was one.</returns>
    public static bool Take(RunStore store, string runId)
    {
        ArgumentNullException.ThrowIfNull(store);
        string file = FileOf(store, runId);
        if (!File.Exists(file))
        {
            return false;
        }

        try
        {
            File.Delete(file);
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            // It has been seen, which is what counts.
        }

        return true;
    }

    private static string FileOf(RunStore store, string runId) => RunLease.PathOf(store.Path, runId) + ".stop";
}
