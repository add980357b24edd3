using Microsoft.Data.Sqlite;

namespace ProbeRunner.Records.Store;

/// <summary>Opens connections to a store, each set so that a commit that returned survives a power cut.</summary>
internal static class Connections
{
    private const string Durable =
        """
        PRAGMA busy_timeout = 5000;
        PRAGMA synchronous = FULL;
        PRAGMA fullfsync = ON;
        PRAGMA checkpoint_fullfsync = ON;
        PRAGMA foreign_keys = ON;
        PRAGMA cell_size_check = ON;
        """;

    /// <summary>Opens the store, makes it when it is missing, and brings its schema up to date.</summary>
    /// <exception cref="SqliteException">The file cannot be opened or written.</exception>
    /// <exception cref="StoreUnusableException">The file is not a store this program can use.</exception>
    public static SqliteConnection OpenForWriting(string path)
    {
        SqliteConnection connection = Open(path, SqliteOpenMode.ReadWriteCreate);
        try
        {
            // The schema first: a database of another program must not be touched.
            Migrations.Apply(connection);
            UseWriteAheadLog(connection);
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>Opens an existing store for reading; the schema is checked, not changed unless it is older.</summary>
    public static SqliteConnection OpenForReading(string path)
    {
        SqliteConnection connection = Open(path, SqliteOpenMode.ReadWrite);
        try
        {
            Migrations.Apply(connection);
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private static SqliteConnection Open(string path, SqliteOpenMode mode)
    {
        var settings = new SqliteConnectionStringBuilder { DataSource = path, Mode = mode, Pooling = false, DefaultTimeout = 10 };
        var connection = new SqliteConnection(settings.ToString());
        try
        {
            connection.Open();
            using SqliteCommand command = connection.CreateCommand();
            command.CommandText = Durable;
            command.ExecuteNonQuery();
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private static void UseWriteAheadLog(SqliteConnection connection)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "PRAGMA journal_mode = WAL";
        if (!string.Equals((string?)command.ExecuteScalar(), "wal", StringComparison.OrdinalIgnoreCase))
        {
            throw new StoreUnusableException(
                $"{connection.DataSource} is in a place where records cannot be kept safely (no write-ahead log there; a network folder?). Name a file on a local disk with --store.");
        }
    }
}
