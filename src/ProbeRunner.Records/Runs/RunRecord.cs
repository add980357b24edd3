using System.Collections.Immutable;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Records.Runs;

/// <summary>How a run stands.</summary>
public enum RunState
{
    /// <summary>A process is writing it now.</summary>
    Running,

    /// <summary>It has an outcome; unless that is completion it can be resumed.</summary>
    Ended,

    /// <summary>It has no outcome and nobody is at it: killed, power cut, or the store failed. It can be resumed.</summary>
    Interrupted,

    /// <summary>What is stored is not what was written.</summary>
    Damaged,
}

/// <summary>One run as a list shows it.</summary>
/// <param name="Entries">Rows in its journal.</param>
/// <param name="LastAt">Time of the last row since the run began.</param>
/// <param name="Outcome">How it ended; null while it has not.</param>
public sealed record RunListing(
    string RunId, string MachineName, string ScriptName, DateTimeOffset StartedAt, RunState State, long Entries, TimeSpan LastAt, RunOutcome? Outcome)
{
    /// <summary>What it follows, as it was started; empty when that is damaged.</summary>
    public string ScriptText { get; init; } = string.Empty;

    /// <summary>Whether it can be taken up again.</summary>
    public bool IsResumable => State is RunState.Interrupted or RunState.Ended && Outcome is not RunOutcome.Completed;
}

/// <summary>Everything the store knows of a run, laid out for reports and exports.</summary>
/// <param name="Header">What it was started with.</param>
/// <param name="State">How it stands.</param>
/// <param name="Entries">The journal, in order, voided rows included.</param>
/// <param name="Sessions">Each time a process took it up.</param>
/// <param name="Steps">The steps that began, in order, with their readings and conclusions.</param>
/// <param name="Prompts">What was asked and answered, in order; voided ones left out.</param>
/// <param name="Changes">Settings that were changed, in order.</param>
/// <param name="Interruptions">Holds, stops, halts, lost links.</param>
/// <param name="Outcome">How it ended; null while it has not.</param>
/// <param name="DamagedFrom">First row that is not what was written, when only the sound part was asked for.</param>
public sealed record RunRecord(
    RunHeader Header,
    RunState State,
    ImmutableArray<JournalEntry> Entries,
    ImmutableArray<SessionRecord> Sessions,
    ImmutableArray<StepRecord> Steps,
    ImmutableArray<PromptRecord> Prompts,
    ImmutableArray<ChangeRecord> Changes,
    ImmutableArray<InterruptionRecord> Interruptions,
    RunOutcome? Outcome,
    long? DamagedFrom)
{
    /// <summary>The newest conclusion of a kind, or null: what a report shows of it.</summary>
    public T? Conclusion<T>()
        where T : StepConclusion => Steps.Select(step => step.Conclusion).OfType<T>().LastOrDefault();

    /// <summary>Time from the start to the last row.</summary>
    public TimeSpan Duration => Entries.IsEmpty ? TimeSpan.Zero : Entries[^1].At;

    /// <summary>Whether it can be taken up again.</summary>
    public bool IsResumable => State is RunState.Interrupted or RunState.Ended && Outcome is not RunOutcome.Completed;

    /// <summary>Whether any session of it was on a simulated machine.</summary>
    public bool IsSimulated => Sessions.Any(session => session.Session.Simulated);
}

/// <summary>A process took the run up.</summary>
public sealed record SessionRecord(TimeSpan At, SessionPayload Session);

/// <summary>One step of a run.</summary>
/// <param name="Index">From 0.</param>
/// <param name="Name">In the script.</param>
/// <param name="Title">For a person.</param>
/// <param name="Of">Steps in the script.</param>
/// <param name="StartedAt">Since the run began.</param>
/// <param name="EndedAt">Null when it did not end.</param>
/// <param name="Readings">Every touch, in order, voided ones marked.</param>
/// <param name="Conclusion">Null when it came to none.</param>
public sealed record StepRecord(
    int Index,
    string Name,
    string Title,
    int Of,
    TimeSpan StartedAt,
    TimeSpan? EndedAt,
    ImmutableArray<ReadingRecord> Readings,
    StepConclusion? Conclusion);

/// <summary>One reading in the journal.</summary>
/// <param name="Ordinal">Its row.</param>
/// <param name="At">Since the run began.</param>
/// <param name="Section">The section of the step it belongs to.</param>
/// <param name="Voided">Whether its section was taken again, so that it counts no longer.</param>
public sealed record ReadingRecord(long Ordinal, TimeSpan At, string Section, Reading Reading, bool Voided);

/// <summary>A question and its answer.</summary>
public sealed record PromptRecord(long Ordinal, TimeSpan At, int StepIndex, Prompt Prompt, string Answer);

/// <summary>A setting that was changed.</summary>
public sealed record ChangeRecord(long Ordinal, TimeSpan At, int StepIndex, ChangedSetting Change);

/// <summary>A hold, a stop, a halt, a lost link.</summary>
public sealed record InterruptionRecord(long Ordinal, TimeSpan At, int StepIndex, InterruptedPayload Interruption);
