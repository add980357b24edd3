using System.Text.Json;
using Microsoft.Data.Sqlite;
using ProbeRunner.Procedures.Journal;

namespace ProbeRunner.Records.Store;

/// <summary>A run's header and the checksum of its text as stored, from which the chain of its rows starts.</summary>
internal sealed record StoredHeader(RunHeader Header, byte[] Checksum)
{
    /// <summary>The run.</summary>
    public string RunId => Header.RunId;
}

/// <summary>Headers of runs in SQL.</summary>
internal static class HeaderRows
{
    /// <summary>Adds a run without rows.</summary>
    public static StoredHeader Insert(SqliteConnection connection, RunHeader header)
    {
        using SqliteTransaction transaction = connection.BeginTransaction(deferred: false);
        StoredHeader stored = Insert(connection, transaction, header);
        transaction.Commit();
        return stored;
    }

    /// <summary>Adds a run without rows, within a transaction.</summary>
    public static StoredHeader Insert(SqliteConnection connection, SqliteTransaction transaction, RunHeader header)
    {
        string text = JournalJson.Write(header);
        byte[] checksum = Checksum.OfHeader(text);
        using SqliteCommand run = connection.CreateCommand();
        run.Transaction = transaction;
        run.CommandText =
            """
            INSERT INTO run (id, header, checksum) VALUES ($run, $header, $checksum);
            INSERT INTO head (run, ordinal, checksum) VALUES ($run, 0, $checksum);
            """;
        run.Parameters.AddWithValue("$run", header.RunId);
        run.Parameters.AddWithValue("$header", text);
        run.Parameters.AddWithValue("$checksum", checksum);
        run.ExecuteNonQuery();
        return new StoredHeader(header, checksum);
    }

    /// <summary>The header of a run.</summary>
    /// <exception cref="StoreUnusableException">There is no such run.</exception>
    /// <exception cref="JournalDamagedException">It is not what was written (ordinal 0).</exception>
    public static StoredHeader Read(SqliteConnection connection, string runId)
    {
        using SqliteCommand select = connection.CreateCommand();
        select.CommandText = "SELECT id, header, checksum FROM run WHERE id = $run";
        select.Parameters.AddWithValue("$run", runId);
        try
        {
            using SqliteDataReader row = select.ExecuteReader();
            return row.Read() ? Verified(row, runId) : throw new StoreUnusableException($"There is no run {runId} in {connection.DataSource}. List the runs to see their names.");
        }
        catch (Exception damage) when (EntryRows.IsDamage(damage))
        {
            throw new JournalDamagedException(runId, 0);
        }
    }

    /// <summary>All headers, newest first; null in place of one that is damaged.</summary>
    public static List<(string RunId, StoredHeader? Header)> ReadAll(SqliteConnection connection)
    {
        using SqliteCommand select = connection.CreateCommand();
        select.CommandText = "SELECT id, header, checksum FROM run ORDER BY id DESC";
        using SqliteDataReader row = select.ExecuteReader();
        List<(string, StoredHeader?)> headers = [];
        while (row.Read())
        {
            string runId = row.GetString(0);
            try
            {
                headers.Add((runId, Verified(row, runId)));
            }
            catch (JournalDamagedException)
            {
                headers.Add((runId, null));
            }
        }

        return headers;
    }

    private static StoredHeader Verified(SqliteDataReader row, string runId)
    {
        string text = row.GetString(1);
        byte[] checksum = Checksum.OfHeader(text);
        if (!checksum.AsSpan().SequenceEqual((byte[])row.GetValue(2)))
        {
            throw new JournalDamagedException(runId, 0);
        }

        try
        {
            RunHeader header = JournalJson.Read<RunHeader>(text);
            return header.RunId == runId ? new StoredHeader(header, checksum) : throw new JournalDamagedException(runId, 0);
        }
        catch (JsonException)
        {
            throw new JournalDamagedException(runId, 0);
        }
    }
}
