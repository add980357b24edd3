using System.Collections.Immutable;
using ProbeRunner.Procedures.Journal;

namespace ProbeRunner.Records.Runs;

/// <summary>What is new in a run that is being followed.</summary>
/// <param name="Header">What it was started with.</param>
/// <param name="IsRunning">Whether a process works on it.</param>
/// <param name="Entries">The new rows, in order.</param>
public sealed record RunNews(RunHeader Header, bool IsRunning, ImmutableArray<JournalEntry> Entries);
