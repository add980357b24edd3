using Microsoft.Data.Sqlite;

namespace ProbeRunner.Records.Store;

/// <summary>Opens connections to a store, each set so that a commit that returned survives a power cut.</summary>
internal static class Connections
{
    /// <summary>The file or its folder may not be written.</summary>
    public const int ReadOnlyMedium = 8;

    /// <summary>The file, or one that belongs beside it, cannot be opened.</summary>
    public const int CannotOpen = 14;

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
        // The schema first: a database of another program must not be touched.
        SqliteConnection connection = OpenAndMigrate(path, SqliteOpenMode.ReadWriteCreate);
        try
        {
            UseWriteAheadLog(connection);
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>
    /// Opens an existing store for reading; the schema is checked, not changed unless it is older. A store that may not be written here (an
    /// archive, another user's) is read as it lies.
    /// </summary>
    public static SqliteConnection OpenForReading(string path)
    {
        try
        {
            return OpenAndMigrate(path, SqliteOpenMode.ReadWrite);
        }
        catch (SqliteException refused) when (refused.SqliteErrorCode is ReadOnlyMedium or CannotOpen)
        {
            return OpenUnwritable(path);
        }
    }

    /// <summary>Writes something to the disk and changes nothing: a store that may not be written, or whose disk is full, shows it here.</summary>
    /// <exception cref="SqliteException">It cannot be written.</exception>
    public static void ProveWritable(SqliteConnection connection)
    {
        using SqliteTransaction transaction = connection.BeginTransaction(deferred: false);
        Migrations.WriteVersion(connection, transaction);
        transaction.Commit();
    }

    /// <summary>
    /// What others write, SQLite reads with their index of the log. With no log beside it, the file is whole, and is read as one that doesn't
    /// change: for its own index SQLite would have to write.
    /// </summary>
    private static SqliteConnection OpenUnwritable(string path)
    {
        if (new FileInfo(path + "-wal") is not { Exists: true, Length: > 0 })
        {
            return OpenAndMigrate(new Uri(path).AbsoluteUri + "?immutable=1", SqliteOpenMode.ReadOnly);
        }

        try
        {
            return OpenAndMigrate(path, SqliteOpenMode.ReadOnly);
        }
        catch (SqliteException refused) when (refused.SqliteErrorCode is ReadOnlyMedium or CannotOpen)
        {
            throw new StoreUnusableException(
                $"The store {path} may not be written here, and its newest rows lie in {path}-wal, where they can't be read without that. Copy both files to a folder of yours and read the copy.", refused);
        }
    }

    private static SqliteConnection OpenAndMigrate(string source, SqliteOpenMode mode)
    {
        SqliteConnection connection = Open(source, mode);
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

    private static SqliteConnection Open(string source, SqliteOpenMode mode)
    {
        var settings = new SqliteConnectionStringBuilder { DataSource = source, Mode = mode, Pooling = false, DefaultTimeout = 10 };
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
