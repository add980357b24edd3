using Microsoft.Data.Sqlite;

namespace ProbeRunner.Records.Store;

/// <summary>Words for what stands in the way of a store.</summary>
internal static class StoreProblems
{
    private const int DiskFull = 13;
    private const int NotReadOrWritten = 10;

    /// <summary>What a failure of the database means and what to do about it.</summary>
    public static StoreUnusableException Of(string path, SqliteException failure) => new(
        failure.SqliteErrorCode switch
        {
            Connections.CannotOpen => $"The store {path} cannot be opened: check that its folder exists and that you may write there, or name another file with --store.",
            Connections.ReadOnlyMedium => $"The store {path} cannot be written, so nothing was recorded and nothing has moved: check that you may write the file and its folder, or name another file with --store.",
            DiskFull => $"The disk of the store {path} is full, so nothing was recorded and nothing has moved: make room, or name a file on another disk with --store.",
            NotReadOrWritten => $"The disk of the store {path} is full or fails ({failure.Message}), so nothing was recorded and nothing has moved: make room, try the disk, or name a file on another with --store.",
            _ when EntryRows.IsDamage(failure) => $"{path} is damaged or no store of this program ({failure.Message}). Nothing was written to it. Name another with --store.",
            _ => $"The store {path} cannot be used: {failure.Message}.",
        },
        failure);

    /// <exception cref="StoreUnusableException">It is a folder.</exception>
    public static void ThrowIfFolder(string path)
    {
        if (Directory.Exists(path))
        {
            throw new StoreUnusableException($"{path} is a folder, and the store is one file. Name a file in it, for example --store {Path.Combine(path, "runs.db")}.");
        }
    }
}
