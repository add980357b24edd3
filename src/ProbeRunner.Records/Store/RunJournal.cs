using Microsoft.Data.Sqlite;
using ProbeRunner.Procedures.Journal;

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
    private StoredHeader _header;
    private byte[] _lastChecksum;
    private long _lastOrdinal;
    private Exception? _failure;
    private bool _ended;

    internal RunJournal(SqliteConnection connection, RunLease lease, string storePath, StoredHeader header, long lastOrdinal, byte[] lastChecksum)
    {
        _connection = connection;
        _lease = lease;
        _storePath = storePath;
        _lastOrdinal = lastOrdinal;
        _lastChecksum = lastChecksum;
        _header = header;
        _insert = EntryRows.Insert(connection);
        _advance = EntryRows.AdvanceHead(connection);
    }

    /// <inheritdoc/>
    public RunHeader Header => _header.Header;

    /// <inheritdoc/>
    public IReadOnlyList<JournalEntry> ReadAll() => EntryRows.ReadVerified(_connection, _header).Entries;

    /// <inheritdoc/>
    public void Append(JournalEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        RefuseAfterFailure();
        if (entry.Ordinal != _lastOrdinal + 1)
        {
            throw new ArgumentException($"Row {entry.Ordinal} cannot follow row {_lastOrdinal}: ordinals go up by one and never repeat.", nameof(entry));
        }

        if (entry.Section.Contains('\0', StringComparison.Ordinal) || entry.Request.Contains('\0', StringComparison.Ordinal) || entry.Reply.Contains('\0', StringComparison.Ordinal))
        {
            throw new ArgumentException("A row's text holds no NUL: JSON escapes it.", nameof(entry));
        }

        byte[] checksum = Checksum.OfEntry(_lastChecksum, entry);
        Durably($"Row {entry.Ordinal} of run {Header.RunId}", transaction =>
        {
            EntryRows.Bind(_insert, Header.RunId, entry, checksum);
            EntryRows.BindHead(_advance, Header.RunId, entry.Ordinal, checksum);
            _insert.Transaction = transaction;
            _advance.Transaction = transaction;
            _insert.ExecuteNonQuery();
            _advance.ExecuteNonQuery();
        });
        _lastOrdinal = entry.Ordinal;
        _lastChecksum = checksum;
        _ended |= entry.Kind == EntryKind.RunEnded;
    }

    /// <summary>Keeps what the controller said of itself. Once: a run belongs to one controller.</summary>
    /// <param name="controllerIdentity">JSON; not empty.</param>
    /// <exception cref="InvalidOperationException">It is known already, and is another.</exception>
    /// <exception cref="JournalFailedException">It could not be made durable.</exception>
    public void SetControllerIdentity(string controllerIdentity)
    {
        ArgumentException.ThrowIfNullOrEmpty(controllerIdentity);
        RefuseAfterFailure();
        if (Header.ControllerIdentity == controllerIdentity)
        {
            return;
        }

        if (Header.ControllerIdentity.Length > 0)
        {
            throw new InvalidOperationException($"Run {Header.RunId} was begun on another controller.");
        }

        Durably($"The controller's identity in run {Header.RunId}", transaction => HeaderRows.SetController(_connection, transaction, _header, controllerIdentity));
        _header = _header with { Header = _header.Header with { ControllerIdentity = controllerIdentity } };
    }

    /// <summary>Closes the store and gives the run back to whoever resumes it.</summary>
    public void Dispose()
    {
        _insert.Dispose();
        _advance.Dispose();
        _connection.Dispose();
        _lease.Dispose();
        if (_ended)
        {
            RunLease.Forget(_storePath, Header.RunId);
        }
    }

    private void Durably(string what, Action<SqliteTransaction> write)
    {
        try
        {
            using SqliteTransaction transaction = _connection.BeginTransaction(deferred: false);
            write(transaction);
            transaction.Commit();
        }
        catch (Exception refused) when (refused is SqliteException or InvalidOperationException or IOException)
        {
            _failure = refused;
            throw new JournalFailedException(
                $"{what} could not be saved ({refused.Message}). What was saved before it can be read. The run must stop: free space or repair the disk, then resume.",
                refused);
        }
    }

    private void RefuseAfterFailure()
    {
        if (_failure is not null)
        {
            throw new JournalFailedException($"The record of run {Header.RunId} takes nothing more since it failed ({_failure.Message}).", _failure);
        }
    }
}
