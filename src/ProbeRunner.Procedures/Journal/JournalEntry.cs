namespace ProbeRunner.Procedures.Journal;

/// <summary>What a journal row tells.</summary>
public enum EntryKind
{
    /// <summary>A process took the run up: at its start, and again at each resume.</summary>
    SessionStarted,

    /// <summary>A step began.</summary>
    StepStarted,

    /// <summary>One outside fact: a request of a step and the reply it got.</summary>
    Fact,

    /// <summary>Facts of a section that is taken again: they stay readable and count no longer.</summary>
    Voided,

    /// <summary>The engine restored a physical state after a resume (homed, heated, mesh off).</summary>
    Restored,

    /// <summary>A setting of the controller was changed, with its value before and after.</summary>
    Changed,

    /// <summary>A hold, a stop, a halt, a lost link.</summary>
    Interrupted,

    /// <summary>A step ended; the payload is its conclusion.</summary>
    StepEnded,

    /// <summary>The run ended; the payload is its outcome.</summary>
    RunEnded,
}

/// <summary>One row of a run's journal. Payloads are JSON in the invariant culture.</summary>
/// <param name="Ordinal">1, 2, 3 ... within the run; never repeats.</param>
/// <param name="At">Since the run began.</param>
/// <param name="StepIndex">Which step of the script, from 0; -1 outside any step.</param>
/// <param name="Section">The named section inside the step; empty outside any.</param>
/// <param name="Request">What was asked, JSON with its kind; empty where nothing was.</param>
/// <param name="Reply">What came back, or the row's own payload, JSON.</param>
public sealed record JournalEntry(long Ordinal, TimeSpan At, EntryKind Kind, int StepIndex, string Section, string Request, string Reply);
