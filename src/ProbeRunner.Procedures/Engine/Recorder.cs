using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Engine;

/// <summary>Writes the run's journal: gives each row the next ordinal and its time, and knows when the journal has failed.</summary>
internal sealed class Recorder(IJournal journal, RunClock clock, long lastOrdinal)
{
    private long _ordinal = lastOrdinal;

    /// <summary>Whether the journal refused a row; it takes nothing more.</summary>
    public bool HasFailed { get; private set; }

    /// <summary>Makes a fact durable.</summary>
    /// <returns>Its ordinal.</returns>
    public long Fact(int step, string section, string request, string reply) => Append(EntryKind.Fact, step, section, request, reply);

    /// <summary>Declares the facts of a section void.</summary>
    public void Voided(int step, string section, long from, long to, string why) =>
        Append(EntryKind.Voided, step, section, string.Empty, JournalJson.Write(new VoidedPayload(from, to, why)));

    /// <summary>Records a row with a payload.</summary>
    public void Note<T>(EntryKind kind, int step, T payload) => Append(kind, step, string.Empty, string.Empty, JournalJson.Write(payload));

    /// <summary>Records that the engine restored something.</summary>
    public void Restored(int step, Request? request, string what) => Append(
        EntryKind.Restored,
        step,
        string.Empty,
        request is null ? string.Empty : JournalJson.Write(request),
        JournalJson.Write(new RestoredPayload(what)));

    /// <summary>Records how a step ended.</summary>
    public void StepEnded(int step, StepConclusion conclusion) => Note(EntryKind.StepEnded, step, conclusion);

    private long Append(EntryKind kind, int step, string section, string request, string reply)
    {
        try
        {
            journal.Append(new JournalEntry(_ordinal + 1, clock.Elapsed, kind, step, section, request, reply));
        }
        catch
        {
            HasFailed = true;
            throw;
        }

        return ++_ordinal;
    }
}
