using System.Collections.Immutable;
using Microsoft.Data.Sqlite;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Records.Store;

/// <summary>
/// All runs in one SQLite file with a write-ahead log. One process writes a run; any process may read any run at any time.
/// What an <see cref="RunJournal.Append"/> has taken survives a kill and a power cut.
/// </summary>
public sealed class RunStore
{
    private RunStore(string path) => Path = path;

    /// <summary>The file.</summary>
    public string Path { get; }

    /// <summary>Opens a store, making file and folder when they are missing, and shows that it can be written now.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="StoreUnusableException">It is not a store of ours, newer than this program, or cannot be written.</exception>
    public static RunStore Open(string path)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        var store = new RunStore(System.IO.Path.GetFullPath(path));
        StoreProblems.ThrowIfFolder(store.Path);
        try
        {
            Directory.CreateDirectory(System.IO.Path.GetDirectoryName(store.Path)!);
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            throw new StoreUnusableException($"The folder of the store {store.Path} cannot be made ({refused.Message}), so nothing has moved. Name a file in a folder of yours with --store.", refused);
        }

        store.ProveWritable();
        return store;
    }

    /// <summary>Opens a store to read it; nothing is made.</summary>
    /// <exception cref="StoreUnusableException">There is none, or it cannot be used.</exception>
    public static RunStore OpenExisting(string path)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        var store = new RunStore(System.IO.Path.GetFullPath(path));
        StoreProblems.ThrowIfFolder(store.Path);
        if (!File.Exists(store.Path))
        {
            throw new StoreUnusableException($"There is no store at {store.Path}. It is made by the first run; name another with --store.");
        }

        store.With(Connections.OpenForReading, _ => true);
        return store;
    }

    /// <summary>
    /// Shows that a run can be written here now, by writing to the disk: asked before anything is sent to a machine, so that what stands in
    /// the way is met while nothing has moved.
    /// </summary>
    /// <exception cref="StoreUnusableException">It cannot.</exception>
    public void ProveWritable()
    {
        With(Connections.OpenForWriting, connection =>
        {
            Connections.ProveWritable(connection);
            return true;
        });
        RunLease.ProveWritable(Path);
    }

    /// <summary>Begins a run.</summary>
    /// <param name="header">What it is started with; its name must be new.</param>
    /// <exception cref="ArgumentException">The run's name is not one that <see cref="RunId"/> makes.</exception>
    /// <exception cref="StoreUnusableException">The name is taken, or it could not be made durable.</exception>
    public RunJournal Create(RunHeader header)
    {
        ArgumentNullException.ThrowIfNull(header);
        if (!RunId.IsValid(header.RunId))
        {
            throw new ArgumentException($"'{header.RunId}' is no name for a run: letters, digits and hyphens only.", nameof(header));
        }

        return Taken(header.RunId, connection =>
        {
            try
            {
                StoredHeader stored = HeaderRows.Insert(connection, header);
                return (stored, new JournalTail(null, stored.Checksum));
            }
            catch (SqliteException taken) when (taken.SqliteErrorCode == 19)
            {
                throw new StoreUnusableException($"There is a run {header.RunId} already.", taken);
            }
        });
    }

    /// <summary>Takes in a run recorded elsewhere, whole or not at all.</summary>
    /// <param name="header">What it was started with; its name must be new here.</param>
    /// <param name="entries">Its rows, in order, verified by whoever read them.</param>
    /// <exception cref="StoreUnusableException">The name is taken, or the store cannot be written.</exception>
    public void Import(RunHeader header, ImmutableArray<JournalEntry> entries)
    {
        ArgumentNullException.ThrowIfNull(header);
        using RunLease lease = RunLease.Take(Path, header.RunId);
        With(Connections.OpenForWriting, connection =>
        {
            using SqliteTransaction transaction = connection.BeginTransaction(deferred: false);
            byte[] checksum;
            try
            {
                checksum = HeaderRows.Insert(connection, transaction, header).Checksum;
            }
            catch (SqliteException taken) when (taken.SqliteErrorCode == 19)
            {
                throw new StoreUnusableException($"There is a run {header.RunId} in {Path} already; nothing was imported.", taken);
            }

            using SqliteCommand insert = EntryRows.Insert(connection);
            using SqliteCommand advance = EntryRows.AdvanceHead(connection);
            (insert.Transaction, advance.Transaction) = (transaction, transaction);
            foreach (JournalEntry entry in entries)
            {
                checksum = Checksum.OfEntry(checksum, entry);
                EntryRows.Bind(insert, header.RunId, entry, checksum);
                insert.ExecuteNonQuery();
            }

            EntryRows.BindHead(advance, header.RunId, entries.Length, checksum);
            advance.ExecuteNonQuery();
            transaction.Commit();
            return true;
        });
        if (entries is [.., var last] && RunReader.IsCompletion(last))
        {
            RunLease.Forget(Path, header.RunId);
        }
    }

    /// <summary>Takes up a run that was interrupted, stopped, halted or failed.</summary>
    /// <exception cref="StoreUnusableException">There is no such run, it is complete, or another process is at it.</exception>
    /// <exception cref="JournalDamagedException">A row is not what was written.</exception>
    public RunJournal OpenForResume(string runId)
    {
        if (!RunId.IsValid(runId))
        {
            throw NoSuchRun(runId);
        }

        return Taken(runId, connection =>
        {
            StoredHeader header = HeaderRows.Read(connection, runId);
            JournalTail tail = EntryRows.Verify(connection, header);
            return tail.Last is { } last && RunReader.IsCompletion(last)
                ? throw new StoreUnusableException($"Run {runId} is complete; there is nothing to resume. Start a new one.")
                : (header, tail);
        });
    }

    /// <summary>What a run was started with, after all its rows were verified; they are not kept in memory.</summary>
    /// <exception cref="StoreUnusableException">There is no such run, or the store cannot be read.</exception>
    /// <exception cref="JournalDamagedException">A row is not what was written.</exception>
    public RunHeader ReadHeader(string runId)
    {
        if (!RunId.IsValid(runId))
        {
            throw NoSuchRun(runId);
        }

        return With(Connections.OpenForReading, connection =>
        {
            StoredHeader header = HeaderRows.Read(connection, runId);
            EntryRows.Verify(connection, header);
            return header.Header;
        });
    }

    /// <summary>Every run in the store, newest first, each with what a list shows of it.</summary>
    /// <exception cref="StoreUnusableException">The store cannot be read.</exception>
    public ImmutableArray<RunListing> List() =>
        With(Connections.OpenForReading, connection => ListingRows.Read(connection, runId => RunLease.IsHeld(Path, runId)));

    /// <summary>Everything about a run.</summary>
    /// <exception cref="StoreUnusableException">There is no such run, or the store cannot be read.</exception>
    /// <exception cref="JournalDamagedException">A row is not what was written; <see cref="ReadSoundPart"/> gives the rows before it.</exception>
    public RunRecord Read(string runId)
    {
        RunRecord record = ReadSoundPart(runId);
        return record.DamagedFrom is { } ordinal ? throw new JournalDamagedException(runId, ordinal) : record;
    }

    /// <summary>A run as far as its rows are what was written; <see cref="RunRecord.DamagedFrom"/> says where that ends.</summary>
    /// <exception cref="StoreUnusableException">There is no such run, or the store cannot be read.</exception>
    /// <exception cref="JournalDamagedException">The header itself is damaged.</exception>
    public RunRecord ReadSoundPart(string runId)
    {
        if (!RunId.IsValid(runId))
        {
            throw NoSuchRun(runId);
        }

        return With(Connections.OpenForReading, connection =>
        {
            StoredHeader header = HeaderRows.Read(connection, runId);

            // Asked before the rows are read: a run that ends in between shows as ended.
            bool isHeld = RunLease.IsHeld(Path, runId);
            FoundEntries found = EntryRows.Read(connection, header);
            return RunReader.Read(header.Header, found.Entries, isHeld, found.DamagedFrom);
        });
    }

    /// <summary>The rows of a run after one, and whether a process works on it: for following it while it is written.</summary>
    /// <param name="runId">The run.</param>
    /// <param name="ordinal">The last row that is known; 0 for none.</param>
    /// <exception cref="StoreUnusableException">There is no such run, or the store cannot be read.</exception>
    /// <exception cref="JournalDamagedException">A row is not what was written.</exception>
    public RunNews ReadAfter(string runId, long ordinal)
    {
        if (!RunId.IsValid(runId))
        {
            throw NoSuchRun(runId);
        }

        return With(Connections.OpenForReading, connection =>
        {
            StoredHeader header = HeaderRows.Read(connection, runId);

            // Asked before the rows are read: what a run writes last is not missed.
            bool isRunning = RunLease.IsHeld(Path, runId);
            return new RunNews(header.Header, isRunning, EntryRows.After(connection, header, ordinal));
        });
    }

    private RunJournal Taken(string runId, Func<SqliteConnection, (StoredHeader Header, JournalTail Tail)> begin)
    {
        RunLease lease = RunLease.Take(Path, runId);
        SqliteConnection? connection = null;
        try
        {
            connection = Connect(Connections.OpenForWriting);
            (StoredHeader header, JournalTail tail) = begin(connection);
            return new RunJournal(connection, lease, Path, header, tail);
        }
        catch (SqliteException failure)
        {
            connection?.Dispose();
            lease.Dispose();
            throw StoreProblems.Of(Path, failure);
        }
        catch
        {
            connection?.Dispose();
            lease.Dispose();
            throw;
        }
    }

    private StoreUnusableException NoSuchRun(string runId) => new($"There is no run '{Text.VisibleText.Of(runId)}' in {Path}.");

    private T With<T>(Func<string, SqliteConnection> open, Func<SqliteConnection, T> use)
    {
        using SqliteConnection connection = Connect(open);
        try
        {
            return use(connection);
        }
        catch (SqliteException failure)
        {
            throw StoreProblems.Of(Path, failure);
        }
    }

    private SqliteConnection Connect(Func<string, SqliteConnection> open)
    {
        try
        {
            return open(Path);
        }
        catch (SqliteException failure)
        {
            throw StoreProblems.Of(Path, failure);
        }
    }
}
