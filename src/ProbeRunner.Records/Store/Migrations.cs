using System.Collections.Immutable;
using System.Globalization;
using Microsoft.Data.Sqlite;

namespace ProbeRunner.Records.Store;

/// <summary>
/// Brings a store's schema up to what this program knows, script by script, each in one transaction with its number.
/// Scripts that were ever shipped are never edited: a change is a new script at the end.
/// </summary>
internal static class Migrations
{
    /// <summary>Marks the file as a store of ours ("PbRn").</summary>
    public const int ApplicationId = 0x5062_526E;

    /// <summary>Script n brings a store from version n-1 to n.</summary>
    public static ImmutableArray<string> Scripts { get; } =
    [
        """
        CREATE TABLE run (
            id TEXT NOT NULL PRIMARY KEY,
            header TEXT NOT NULL,
            checksum BLOB NOT NULL
        ) STRICT, WITHOUT ROWID;

        CREATE TABLE entry (
            run TEXT NOT NULL REFERENCES run (id),
            ordinal INTEGER NOT NULL,
            at_ticks INTEGER NOT NULL,
            kind TEXT NOT NULL,
            step INTEGER NOT NULL,
            section TEXT NOT NULL,
            request TEXT NOT NULL,
            reply TEXT NOT NULL,
            checksum BLOB NOT NULL,
            PRIMARY KEY (run, ordinal)
        ) STRICT, WITHOUT ROWID;

        -- The last row of each run, so that a row lost from the end is noticed too.
        CREATE TABLE head (
            run TEXT NOT NULL PRIMARY KEY REFERENCES run (id),
            ordinal INTEGER NOT NULL,
            checksum BLOB NOT NULL
        ) STRICT, WITHOUT ROWID;
        """,
    ];

    /// <summary>The newest version this program knows.</summary>
    public static int Newest => Scripts.Length;

    /// <summary>Applies what is missing.</summary>
    /// <exception cref="StoreUnusableException">The file is not a store of ours, or is newer than this program.</exception>
    public static void Apply(SqliteConnection connection)
    {
        if (Version(connection) == Newest)
        {
            return;
        }

        // A second process may be at the same: the version is asked again once the write lock is held.
        using SqliteTransaction transaction = connection.BeginTransaction(deferred: false);
        for (int version = Version(connection); version < Newest; version++)
        {
            Run(connection, transaction, Scripts[version]);
            Run(connection, transaction, string.Create(CultureInfo.InvariantCulture, $"PRAGMA user_version = {version + 1}"));
        }

        Run(connection, transaction, string.Create(CultureInfo.InvariantCulture, $"PRAGMA application_id = {ApplicationId}"));
        transaction.Commit();
    }

    /// <summary>Writes the version once more, which changes nothing.</summary>
    public static void WriteVersion(SqliteConnection connection, SqliteTransaction transaction) =>
        Run(connection, transaction, string.Create(CultureInfo.InvariantCulture, $"PRAGMA user_version = {Newest}"));

    private static int Version(SqliteConnection connection)
    {
        long version = Scalar(connection, "PRAGMA user_version");
        long application = Scalar(connection, "PRAGMA application_id");
        bool isEmpty = Scalar(connection, "SELECT count(*) FROM sqlite_schema") == 0;
        if (application != ApplicationId && !isEmpty)
        {
            throw new StoreUnusableException(
                $"{connection.DataSource} is a database of some other program. Nothing was written to it. Name another file with --store.");
        }

        return version <= Newest
            ? (int)version
            : throw new StoreUnusableException(string.Create(
                CultureInfo.InvariantCulture,
                $"{connection.DataSource} was written by a newer version of this program (store version {version}, this program knows {Newest}). Nothing was written to it. Update the program, or name another file with --store."));
    }

    private static long Scalar(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        return (long)command.ExecuteScalar()!;
    }

    private static void Run(SqliteConnection connection, SqliteTransaction transaction, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.Transaction = transaction;
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
