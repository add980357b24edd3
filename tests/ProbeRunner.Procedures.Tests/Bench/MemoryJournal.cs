using ProbeRunner.Procedures.Journal;

namespace ProbeRunner.Procedures.Tests.Bench;

/// <summary>A journal in memory that can fail, or cut the power, at a chosen row.</summary>
internal sealed class MemoryJournal(ulong seed = 1) : IJournal
{
    public List<JournalEntry> Entries { get; } = [];

    /// <summary>The row that can't be written; 0 for none.</summary>
    public int FailsAtRow { get; set; }

    /// <summary>The row after which nothing is executed any more; 0 for never.</summary>
    public int CutAfterRow { get; set; }

    /// <summary>Whether that row has come.</summary>
    public bool IsCut { get; private set; }

    /// <summary>Called after a row is durable.</summary>
    public Action<JournalEntry>? Appended { get; set; }

    public RunHeader Header { get; set; } = new(
        "run-1", "wren-240", "test", string.Empty, string.Empty, string.Empty, "port", string.Empty, new DateTimeOffset(2026, 1, 5, 6, 0, 0, TimeSpan.Zero), seed, "0.1");

    public IEnumerable<JournalEntry> ReadAll() => [.. Entries];

    public void Append(JournalEntry entry)
    {
        if (CutAfterRow > 0 && Entries.Count >= CutAfterRow)
        {
            IsCut = true;
            throw new PowerCutException();
        }

        if (FailsAtRow > 0 && Entries.Count + 1 >= FailsAtRow)
        {
            throw new JournalFailedException("disk full");
        }

        Assert.Equal(Entries.Count + 1, entry.Ordinal);
        Assert.True(Entries.Count == 0 || entry.At >= Entries[^1].At, "time ran backwards");
        Entries.Add(entry);
        Appended?.Invoke(entry);
    }
}

/// <summary>Stands for the instant at which a process dies.</summary>
internal sealed class PowerCutException() : Exception("cut");
