using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;

namespace ProbeRunner.Campaigns;

/// <summary>A journal that keeps its rows in memory and can break off at one of them.</summary>
internal sealed class PlainJournal(ulong seed) : IJournal
{
    private readonly List<JournalEntry> _entries = [];

    public IReadOnlyList<JournalEntry> Entries => _entries;

    /// <summary>The row after which nothing can be written; 0 for never.</summary>
    public int CutAfterRow { get; set; }

    public RunHeader Header { get; } = new(
        "run-1", "wren-240", "campaign", string.Empty, string.Empty, string.Empty, "port", string.Empty, new DateTimeOffset(2026, 1, 5, 6, 0, 0, TimeSpan.Zero), seed, "0.1");

    public IEnumerable<JournalEntry> ReadAll() => [.. _entries];

    public void Append(JournalEntry entry)
    {
        if (CutAfterRow > 0 && _entries.Count >= CutAfterRow)
        {
            throw new JournalFailedException("The power was cut.");
        }

        _entries.Add(entry);
    }

    /// <summary>The last conclusion of a type; null when no step came to one.</summary>
    public T? Conclusion<T>()
        where T : StepConclusion =>
        _entries.Where(entry => entry.Kind == EntryKind.StepEnded).Select(entry => JournalJson.Read<StepConclusion>(entry.Reply)).OfType<T>().LastOrDefault();
}
