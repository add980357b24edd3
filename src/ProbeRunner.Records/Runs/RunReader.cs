using System.Collections.Immutable;
using System.Text.Json;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Records.Runs;

/// <summary>
/// Lays a journal out as a record. Rows whose checksums hold but whose payload this version does not know (an older or newer program
/// wrote them) stay in <see cref="RunRecord.Entries"/> and are left out of the rest.
/// </summary>
public static class RunReader
{
    /// <summary>The record of a run.</summary>
    /// <param name="header">What it was started with.</param>
    /// <param name="entries">Its rows, in order.</param>
    /// <param name="isHeld">Whether a process is writing it.</param>
    /// <param name="damagedFrom">First row that is not what was written.</param>
    public static RunRecord Read(RunHeader header, ImmutableArray<JournalEntry> entries, bool isHeld = false, long? damagedFrom = null)
    {
        ArgumentNullException.ThrowIfNull(header);
        HashSet<long> voided = Voided(entries);
        RunOutcome? outcome = OutcomeOf(entries);
        RunState state = damagedFrom is not null ? RunState.Damaged
            : outcome is not null ? RunState.Ended
            : isHeld ? RunState.Running
            : RunState.Interrupted;
        return new RunRecord(
            header.ControllerIdentity.Length > 0 ? header : header with { ControllerIdentity = IdentityIn(entries) },
            state,
            entries,
            [.. Payloads<SessionPayload>(entries, EntryKind.SessionStarted).Select(found => new SessionRecord(found.Entry.At, found.Payload))],
            Steps(entries, voided),
            [.. Prompts(entries, voided)],
            [.. Payloads<ChangedSetting>(entries, EntryKind.Changed)
                .Select(found => new ChangeRecord(found.Entry.Ordinal, found.Entry.At, found.Entry.StepIndex, found.Payload))],
            [.. Payloads<InterruptedPayload>(entries, EntryKind.Interrupted)
                .Select(found => new InterruptionRecord(found.Entry.Ordinal, found.Entry.At, found.Entry.StepIndex, found.Payload))],
            outcome,
            damagedFrom);
    }

    /// <summary>Whether a row ends a run for good; after any other outcome it can be taken up again.</summary>
    internal static bool IsCompletion(JournalEntry entry) =>
        entry.Kind == EntryKind.RunEnded && TryRead(entry.Reply, out RunOutcome? outcome) && outcome is RunOutcome.Completed;

    // An outcome is a session's: once the run was taken up again it has none until the next.
    private static RunOutcome? OutcomeOf(ImmutableArray<JournalEntry> entries)
    {
        JournalEntry? last = entries.LastOrDefault(entry => entry.Kind is EntryKind.RunEnded or EntryKind.SessionStarted);
        return last is { Kind: EntryKind.RunEnded } && TryRead(last.Reply, out RunOutcome? outcome) ? outcome : null;
    }

    private static string IdentityIn(ImmutableArray<JournalEntry> entries) =>
        entries.FirstOrDefault(entry => KindOf(entry) == FactKinds.Identify)?.Reply ?? string.Empty;

    private static HashSet<long> Voided(ImmutableArray<JournalEntry> entries)
    {
        HashSet<long> voided = [];
        foreach ((_, VoidedPayload payload) in Payloads<VoidedPayload>(entries, EntryKind.Voided))
        {
            long last = Math.Min(payload.ToOrdinal, entries.Length);
            for (long ordinal = Math.Max(1, payload.FromOrdinal); ordinal <= last; ordinal++)
            {
                voided.Add(ordinal);
            }
        }

        return voided;
    }

    private static ImmutableArray<StepRecord> Steps(ImmutableArray<JournalEntry> entries, HashSet<long> voided)
    {
        ILookup<int, ReadingRecord> readings = Readings(entries, voided).ToLookup(found => found.StepIndex, found => found.Reading);
        var ends = Payloads<StepConclusion>(entries, EntryKind.StepEnded)
            .GroupBy(found => found.Entry.StepIndex)
            .ToDictionary(group => group.Key, group => group.Last());

        // A step that was begun again after a resume is one step.
        return
        [
            .. Payloads<StepStartedPayload>(entries, EntryKind.StepStarted)
                .GroupBy(found => found.Entry.StepIndex)
                .OrderBy(group => group.Key)
                .Select(group =>
                {
                    (JournalEntry entry, StepStartedPayload started) = group.First();
                    bool hasEnded = ends.TryGetValue(group.Key, out (JournalEntry Entry, StepConclusion Payload) end);
                    return new StepRecord(
                        group.Key,
                        started.Step,
                        started.Title,
                        started.Of,
                        entry.At,
                        hasEnded ? end.Entry.At : null,
                        [.. readings[group.Key]],
                        hasEnded ? end.Payload : null);
                }),
        ];
    }

    private static IEnumerable<(int StepIndex, ReadingRecord Reading)> Readings(ImmutableArray<JournalEntry> entries, HashSet<long> voided)
    {
        foreach (JournalEntry entry in entries)
        {
            if (KindOf(entry) == FactKinds.Touch && TryRead(entry.Reply, out Reading reading))
            {
                yield return (entry.StepIndex, new ReadingRecord(entry.Ordinal, entry.At, entry.Section, reading, voided.Contains(entry.Ordinal)));
            }
        }
    }

    private static IEnumerable<PromptRecord> Prompts(ImmutableArray<JournalEntry> entries, HashSet<long> voided)
    {
        foreach (JournalEntry entry in entries)
        {
            if (!voided.Contains(entry.Ordinal)
                && KindOf(entry) == FactKinds.Ask
                && TryRead(entry.Request, out AskRequest? asked)
                && TryRead(entry.Reply, out Answer? answer))
            {
                yield return new PromptRecord(entry.Ordinal, entry.At, entry.StepIndex, asked!.Prompt, answer!.Value);
            }
        }
    }

    private static string KindOf(JournalEntry entry)
    {
        if (entry.Kind != EntryKind.Fact || entry.Request.Length == 0)
        {
            return string.Empty;
        }

        try
        {
            using var request = JsonDocument.Parse(entry.Request);
            return request.RootElement.ValueKind == JsonValueKind.Object
                && request.RootElement.TryGetProperty("kind", out JsonElement kind)
                && kind.ValueKind == JsonValueKind.String
                ? kind.GetString()!
                : string.Empty;
        }
        catch (JsonException)
        {
            return string.Empty;
        }
    }

    private static IEnumerable<(JournalEntry Entry, T Payload)> Payloads<T>(ImmutableArray<JournalEntry> entries, EntryKind kind)
        where T : class
    {
        foreach (JournalEntry entry in entries)
        {
            if (entry.Kind == kind && TryRead(entry.Reply, out T? payload))
            {
                yield return (entry, payload!);
            }
        }
    }

    private static bool TryRead<T>(string text, out T? payload)
    {
        try
        {
            payload = text.Length == 0 ? default : JsonSerializer.Deserialize<T>(text, JournalJson.Options);
            return payload is not null && text.Length > 0;
        }
        catch (Exception unknown) when (unknown is JsonException or NotSupportedException)
        {
            payload = default;
            return false;
        }
    }
}
