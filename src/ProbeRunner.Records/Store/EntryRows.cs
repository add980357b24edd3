using System.Collections.Immutable;
using Microsoft.Data.Sqlite;
using ProbeRunner.Procedures.Journal;

namespace ProbeRunner.Records.Store;

/// <summary>Rows of a run's journal as they were found.</summary>
/// <param name="Entries">The rows whose checksums hold, in order.</param>
/// <param name="LastChecksum">Checksum of the last of them, or of the header when there is none.</param>
/// <param name="DamagedFrom">First row that is not what was written; null when all are sound.</param>
internal sealed record FoundEntries(ImmutableArray<JournalEntry> Entries, byte[] LastChecksum, long? DamagedFrom);

/// <summary>Where a run's journal ends.</summary>
/// <param name="Last">Its last row; null when it has none.</param>
/// <param name="Checksum">Checksum of that, or of the header.</param>
internal sealed record JournalTail(JournalEntry? Last, byte[] Checksum);

/// <summary>The journal's rows in SQL.</summary>
internal static class EntryRows
{
    private const int PageRows = 256;
    private const int NoLimit = -1; // as SQLite takes it

    /// <summary>The command that adds a row.</summary>
    public static SqliteCommand Insert(SqliteConnection connection) => Prepared(
        connection,
        """
        INSERT INTO entry (run, ordinal, at_ticks, kind, step, section, request, reply, checksum)
        VALUES ($run, $ordinal, $at, $kind, $step, $section, $request, $reply, $checksum)
        """,
        "$run", "$ordinal", "$at", "$kind", "$step", "$section", "$request", "$reply", "$checksum");

    /// <summary>The command that notes which row is the last.</summary>
    public static SqliteCommand AdvanceHead(SqliteConnection connection) => Prepared(
        connection, "UPDATE head SET ordinal = $ordinal, checksum = $checksum WHERE run = $run", "$run", "$ordinal", "$checksum");

    /// <summary>Fills the command that adds a row.</summary>
    public static void Bind(SqliteCommand insert, string runId, JournalEntry entry, byte[] checksum)
    {
        insert.Parameters["$run"].Value = runId;
        insert.Parameters["$ordinal"].Value = entry.Ordinal;
        insert.Parameters["$at"].Value = entry.At.Ticks;
        insert.Parameters["$kind"].Value = entry.Kind.ToString();
        insert.Parameters["$step"].Value = entry.StepIndex;
        insert.Parameters["$section"].Value = entry.Section;
        insert.Parameters["$request"].Value = entry.Request;
        insert.Parameters["$reply"].Value = entry.Reply;
        insert.Parameters["$checksum"].Value = checksum;
    }

    /// <summary>Fills the command that notes which row is the last.</summary>
    public static void BindHead(SqliteCommand advance, string runId, long ordinal, byte[] checksum)
    {
        advance.Parameters["$run"].Value = runId;
        advance.Parameters["$ordinal"].Value = ordinal;
        advance.Parameters["$checksum"].Value = checksum;
    }

    /// <summary>All rows of a run, a page at a time: no reader is open between pages, so rows may be added meanwhile, and are seen.</summary>
    /// <exception cref="JournalDamagedException">A row is not what was written.</exception>
    public static IEnumerable<JournalEntry> ReadVerified(SqliteConnection connection, StoredHeader header)
    {
        var found = new FoundEntries([], header.Checksum, null);
        long before = 0;
        do
        {
            found = Page(connection, header, before, found.LastChecksum, PageRows);
            before += found.Entries.Length;
            foreach (JournalEntry entry in found.Entries)
            {
                yield return entry;
            }

            if (found.DamagedFrom is { } ordinal)
            {
                throw new JournalDamagedException(header.RunId, ordinal);
            }
        }
        while (found.Entries.Length == PageRows);
    }

    /// <summary>Goes through all rows of a run and keeps the last.</summary>
    /// <exception cref="JournalDamagedException">A row is not what was written.</exception>
    public static JournalTail Verify(SqliteConnection connection, StoredHeader header)
    {
        JournalEntry? last = null;
        byte[] checksum = header.Checksum;
        foreach (JournalEntry entry in ReadVerified(connection, header))
        {
            (last, checksum) = (entry, Checksum.OfEntry(checksum, entry));
        }

        return new JournalTail(last, checksum);
    }

    /// <summary>The rows of a run up to the first that is not what was written.</summary>
    public static FoundEntries Read(SqliteConnection connection, StoredHeader header) => Page(connection, header, 0, header.Checksum, NoLimit);

    private static FoundEntries Page(SqliteConnection connection, StoredHeader header, long before, byte[] checksum, int rows)
    {
        ImmutableArray<JournalEntry>.Builder entries = ImmutableArray.CreateBuilder<JournalEntry>();
        bool sound = true;
        try
        {
            // One transaction, so that the rows and the note of the last one are of the same moment.
            using SqliteTransaction transaction = connection.BeginTransaction(deferred: true);
            foreach ((JournalEntry entry, byte[] stored) in Rows(
                connection, transaction, header.RunId, FormattableString.Invariant($"AND ordinal > {before} ORDER BY ordinal LIMIT {rows}")))
            {
                byte[] expected = Checksum.OfEntry(checksum, entry);
                sound = entry.Ordinal == before + entries.Count + 1 && expected.AsSpan().SequenceEqual(stored);
                if (!sound)
                {
                    break;
                }

                entries.Add(entry);
                checksum = expected;
            }

            bool isWhole = entries.Count != rows;
            sound = sound && (!isWhole || HeadIs(connection, transaction, header.RunId, before + entries.Count, checksum));
        }
        catch (Exception damage) when (IsDamage(damage))
        {
            sound = false;
        }

        return new FoundEntries(entries.ToImmutable(), checksum, sound ? null : before + entries.Count + 1);
    }

    /// <summary>The last row of a run, its link to the row before it verified; null when there is none.</summary>
    /// <exception cref="JournalDamagedException">It is not what was written.</exception>
    public static JournalEntry? Last(SqliteConnection connection, StoredHeader header)
    {
        using SqliteTransaction transaction = connection.BeginTransaction(deferred: true);
        (JournalEntry Entry, byte[] Checksum)[] tail = [.. Rows(connection, transaction, header.RunId, "ORDER BY ordinal DESC LIMIT 2")];
        byte[] before = tail.Length > 1 ? tail[1].Checksum : header.Checksum;
        long ordinal = tail.Length > 0 ? tail[0].Entry.Ordinal : 0;
        byte[] checksum = tail.Length > 0 ? Checksum.OfEntry(before, tail[0].Entry) : header.Checksum;
        return HeadIs(connection, transaction, header.RunId, ordinal, checksum)
            ? tail.FirstOrDefault().Entry
            : throw new JournalDamagedException(header.RunId, ordinal);
    }

    /// <summary>Whether an exception while reading means that the file is not what was written, rather than that it cannot be reached.</summary>
    public static bool IsDamage(Exception exception) => exception switch
    {
        SqliteException { SqliteErrorCode: 1 or 11 or 26 } => true,   // SQLITE_ERROR (schema lost), SQLITE_CORRUPT, SQLITE_NOTADB
        InvalidCastException or FormatException or OverflowException or ArgumentException or InvalidOperationException => true,
        _ => false,
    };

    /// <summary>The rows after one that was read before, each verified against the row before it: for following a run while it is written.</summary>
    /// <exception cref="JournalDamagedException">A row is not what was written.</exception>
    public static ImmutableArray<JournalEntry> After(SqliteConnection connection, StoredHeader header, long ordinal)
    {
        byte[] checksum = header.Checksum;
        long known = ordinal;
        ImmutableArray<JournalEntry>.Builder entries = ImmutableArray.CreateBuilder<JournalEntry>();
        try
        {
            using SqliteTransaction transaction = connection.BeginTransaction(deferred: true);
            foreach ((JournalEntry entry, byte[] stored) in Rows(connection, transaction, header.RunId, FormattableString.Invariant($"AND ordinal >= {ordinal} ORDER BY ordinal")))
            {
                if (entry.Ordinal > ordinal)
                {
                    if (entry.Ordinal != known + 1 || !Checksum.OfEntry(checksum, entry).AsSpan().SequenceEqual(stored))
                    {
                        throw new JournalDamagedException(header.RunId, known + 1);
                    }

                    entries.Add(entry);
                    known = entry.Ordinal;
                }

                checksum = stored;
            }
        }
        catch (Exception damage) when (IsDamage(damage))
        {
            throw new JournalDamagedException(header.RunId, known + 1);
        }

        return entries.ToImmutable();
    }

    private static IEnumerable<(JournalEntry Entry, byte[] Checksum)> Rows(
        SqliteConnection connection, SqliteTransaction transaction, string runId, string order)
    {
        using SqliteCommand select = connection.CreateCommand();
        select.Transaction = transaction;
        select.CommandText =
            "SELECT ordinal, at_ticks, kind, step, section, request, reply, checksum FROM entry WHERE run = $run " + order;
        select.Parameters.AddWithValue("$run", runId);
        using SqliteDataReader row = select.ExecuteReader();
        while (row.Read())
        {
            var entry = new JournalEntry(
                row.GetInt64(0),
                TimeSpan.FromTicks(row.GetInt64(1)),
                Enum.Parse<EntryKind>(row.GetString(2)),
                row.GetInt32(3),
                row.GetString(4),
                row.GetString(5),
                row.GetString(6));
            yield return (entry, (byte[])row.GetValue(7));
        }
    }

    private static bool HeadIs(SqliteConnection connection, SqliteTransaction transaction, string runId, long ordinal, byte[] checksum)
    {
        using SqliteCommand select = connection.CreateCommand();
        select.Transaction = transaction;
        select.CommandText = "SELECT ordinal, checksum FROM head WHERE run = $run";
        select.Parameters.AddWithValue("$run", runId);
        using SqliteDataReader row = select.ExecuteReader();
        return row.Read() && row.GetInt64(0) == ordinal && checksum.AsSpan().SequenceEqual((byte[])row.GetValue(1));
    }

    private static SqliteCommand Prepared(SqliteConnection connection, string sql, params ReadOnlySpan<string> parameters)
    {
        SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        foreach (string parameter in parameters)
        {
            command.Parameters.Add(new SqliteParameter { ParameterName = parameter });
        }

        return command;
    }
}
