using Microsoft.Data.Sqlite;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Records.Store;

/// <summary>
/// The journal of one run in a store. One transaction a row, durable when <see cref="Append"/> returns. The first failure is final:
/// after it nothing is taken, so that nothing is acknowledged on a medium that has lost something.
/// </summary>
public sealed class RunJournal : IJournal, IDisposable
{
    private readonly SqliteConnection _connection;
    private readonly RunLease _lease;
    private readonly string _storePath;
    private readonly SqliteCommand _insert;
    private readonly SqliteCommand _advance;
    private readonly StoredHeader _header;
    private byte[] _lastChecksum;
    private long _lastOrdinal;
    private Exception? _failure;
    private bool _complete;

    internal RunJournal(SqliteConnection connection, RunLease lease, string storePath, StoredHeader header, JournalTail tail)
    {
        _connection = connection;
        _lease = lease;
        _storePath = storePath;
        _lastOrdinal = tail.Last?.Ordinal ?? 0;
        _lastChecksum = tail.Checksum;
        _header = header;
        _insert = EntryRows.Insert(connection);
        _advance = EntryRows.AdvanceHead(connection);
    }

    /// <inheritdoc/>
    public RunHeader Header => _header.Header;

    /// <inheritdoc/>
    public IEnumerable<JournalEntry> ReadAll() => EntryRows.ReadVerified(_connection, _header);

    /// <inheritdoc/>
    public void Append(JournalEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        if (_failure is not null)
        {
            throw new JournalFailedException($"The record of run {Header.RunId} takes nothing more since it failed ({_failure.Message}).", _failure);
        }

        Check(entry);
        byte[] checksum = Checksum.OfEntry(_lastChecksum, entry);
        try
        {
            Write(entry, checksum);
        }
        catch (Exception refused) when (refused is SqliteException or InvalidOperationException or IOException)
        {
            _failure = refused;
            throw new JournalFailedException(
                $"Row {entry.Ordinal} of run {Header.RunId} could not be saved ({refused.Message}). What was saved before it can be read. The run must stop: free space or repair the disk, then resume.",
                refused);
        }

        _lastOrdinal = entry.Ordinal;
        _lastChecksum = checksum;
        _complete |= RunReader.IsCompletion(entry);
    }

    /// <summary>Closes the store and gives the run back to whoever resumes it.</summary>
    public void Dispose()
    {
        _insert.Dispose();
        _advance.Dispose();
        _connection.Dispose();
        _lease.Dispose();
        if (_complete)
        {
            RunLease.Forget(_storePath, Header.RunId);
        }
    }

    private void Write(JournalEntry entry, byte[] checksum)
    {
        using SqliteTransaction transaction = _connection.BeginTransaction(deferred: false);
        EntryRows.Bind(_insert, Header.RunId, entry, checksum);
        EntryRows.BindHead(_advance, Header.RunId, entry.Ordinal, checksum);
        _insert.Transaction = transaction;
        _advance.Transaction = transaction;
        _insert.ExecuteNonQuery();
        _advance.ExecuteNonQuery();
        transaction.Commit();
    }

    private void Check(JournalEntry entry)
    {
        if (entry.Ordinal != _lastOrdinal + 1)
        {
            throw new ArgumentException($"Row {entry.Ordinal} cannot follow row {_lastOrdinal}: ordinals go up by one and never repeat.", nameof(entry));
        }

        if (entry.Section.Contains('\0', StringComparison.Ordinal)
            || entry.Request.Contains('\0', StringComparison.Ordinal)
            || entry.Reply.Contains('\0', StringComparison.Ordinal))
        {
            throw new ArgumentException("A row's text holds no NUL: JSON escapes it.", nameof(entry));
        }
    }
}
