namespace ProbeRunner.Procedures.Journal;

/// <summary>The store could not make a row durable (disk full, read-only, input/output error). The run must stop safely.</summary>
public sealed class JournalFailedException(string what, Exception? inner = null) : Exception(what, inner);

/// <summary>A stored row is not what was written: the file was damaged or edited.</summary>
/// <param name="runId">The run.</param>
/// <param name="ordinal">The first row that fails its checksum; 0 for the header, which says what the run was started with.</param>
public sealed class JournalDamagedException(string runId, long ordinal)
    : Exception(ordinal == 0
        ? $"The record of run {runId} is damaged where it begins, where machine, script and start are kept, so nothing of it can be trusted: it can't be shown, exported or resumed. Copy the store elsewhere, try its disk, and start a new run in another store with --store."
        : $"The record of run {runId} is damaged from row {ordinal} on. Rows before it can still be read and exported; the run cannot be resumed.")
{
    /// <summary>The run.</summary>
    public string RunId { get; } = runId;

    /// <summary>The first row that fails its checksum; 0 for the header.</summary>
    public long Ordinal { get; } = ordinal;
}
