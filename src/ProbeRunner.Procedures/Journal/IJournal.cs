namespace ProbeRunner.Procedures.Journal;

/// <summary>The durable record of one run. Synchronous on purpose: nothing is sent before what came before it is safe.</summary>
public interface IJournal
{
    /// <summary>The run it belongs to, with everything needed to repeat its decisions.</summary>
    RunHeader Header { get; }

    /// <summary>
    /// All rows so far, in order, their chained checksums verified; read as they are asked for, so that a long run need not fit into memory.
    /// Each enumeration begins anew, and sees rows that were appended meanwhile.
    /// </summary>
    /// <exception cref="JournalDamagedException">A row is not what was written; thrown by the enumeration.</exception>
    IEnumerable<JournalEntry> ReadAll();

    /// <summary>Makes one row durable. When it returns, the row survives a power cut.</summary>
    /// <exception cref="JournalFailedException">It could not be made durable. Final: the journal takes nothing more.</exception>
    void Append(JournalEntry entry);
}
