using System.Collections.Immutable;
using System.Text.Json;
using Microsoft.Data.Sqlite;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Records.Store;

/// <summary>What a list of runs needs, without reading and verifying every row.</summary>
internal static class ListingRows
{
    /// <summary>All runs, newest first.</summary>
    /// <param name="connection">The store.</param>
    /// <param name="isHeld">Whether some process is writing a run.</param>
    public static ImmutableArray<RunListing> Read(SqliteConnection connection, Func<string, bool> isHeld)
    {
        ImmutableArray<RunListing>.Builder listings = ImmutableArray.CreateBuilder<RunListing>();
        foreach ((string runId, StoredHeader? header) in HeaderRows.ReadAll(connection))
        {
            bool held = isHeld(runId);
            listings.Add(header is null ? Damaged(runId) : Listing(connection, header, held));
        }

        return listings.ToImmutable();
    }

    private static RunListing Listing(SqliteConnection connection, StoredHeader header, bool held)
    {
        try
        {
            if (EntryRows.Last(connection, header) is not { } last)
            {
                return Of(header.Header, held ? RunState.Running : RunState.Interrupted, 0, TimeSpan.Zero, null);
            }

            RunOutcome? outcome = last.Kind == EntryKind.RunEnded ? JournalJson.Read<RunOutcome>(last.Reply) : null;
            RunState state = outcome is not null ? RunState.Ended : held ? RunState.Running : RunState.Interrupted;
            return Of(header.Header, state, last.Ordinal, last.At, outcome);
        }
        catch (Exception damage) when (damage is JsonException or JournalDamagedException || EntryRows.IsDamage(damage))
        {
            return Damaged(header.RunId);
        }
    }

    private static RunListing Of(RunHeader header, RunState state, long entries, TimeSpan lastAt, RunOutcome? outcome) =>
        new(header.RunId, header.MachineName, header.ScriptName, header.StartedAt, state, entries, lastAt, outcome) { ScriptText = header.ScriptText };

    private static RunListing Damaged(string runId) =>
        new(runId, string.Empty, string.Empty, default, RunState.Damaged, 0, TimeSpan.Zero, null);
}
