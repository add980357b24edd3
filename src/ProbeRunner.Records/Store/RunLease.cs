using System.Globalization;

namespace ProbeRunner.Records.Store;

/// <summary>
/// The right to write one run: an exclusive lock on a small file beside the store, given back by the operating system however the
/// process ends. A second file holds the process id for the message to others (the locked one cannot be read). The lock is never deleted
/// while the run can be resumed: a lock on a deleted file would keep nobody out.
/// </summary>
internal sealed class RunLease : IDisposable
{
    /// <summary>A reader that looks whether a run is being written holds the lock for microseconds; a refusal must outlast that.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(250);

    private readonly FileStream _held;

    private RunLease(FileStream held) => _held = held;

    /// <summary>Takes the lease.</summary>
    /// <exception cref="StoreUnusableException">Another process has it, or the folder cannot be written.</exception>
    public static RunLease Take(string storePath, string runId)
    {
        string path = PathOf(storePath, runId);
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            FileStream? stream = null;
            if (!SpinWait.SpinUntil(() => (stream = TryLock(path)) is not null, Patience))
            {
                throw new StoreUnusableException(
                    $"Run {runId} is being written by another process{Holder(path)}. Nothing was sent to the machine. Wait until it ends, or stop that one first.");
            }

            var lease = new RunLease(stream!);
            File.WriteAllText(HolderOf(path), Environment.ProcessId.ToString(CultureInfo.InvariantCulture));
            return lease;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw new StoreUnusableException($"The lock of run {runId} cannot be written beside the store: {failure.Message}", failure);
        }
    }

    /// <summary>Shows that leases can be taken beside a store.</summary>
    /// <exception cref="StoreUnusableException">The folder cannot be written.</exception>
    public static void ProveWritable(string storePath)
    {
        string folder = Path.GetDirectoryName(PathOf(storePath, "x"))!;
        string file = Path.Combine(folder, Path.GetRandomFileName());
        try
        {
            Directory.CreateDirectory(folder);
            File.WriteAllText(file, "proof");
            File.Delete(file);
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            throw new StoreUnusableException(
                $"The locks of runs cannot be written beside the store, in {folder}, so nothing was recorded and nothing has moved: {refused.Message} Check that you may write there and that the disk has room, or name another file with --store.",
                refused);
        }
    }

    /// <summary>Whether some process, this one included, has the lease now.</summary>
    public static bool IsHeld(string storePath, string runId)
    {
        string path = PathOf(storePath, runId);
        try
        {
            using var probe = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read);
            return false;
        }
        catch (Exception missing) when (missing is FileNotFoundException or DirectoryNotFoundException)
        {
            return false;
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            return true;
        }
    }

    /// <summary>Removes the lock of a run that has ended and will never be taken up again.</summary>
    public static void Forget(string storePath, string runId)
    {
        try
        {
            File.Delete(HolderOf(PathOf(storePath, runId)));
            File.Delete(PathOf(storePath, runId));
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            // Litter, no harm.
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _held.Dispose();

    /// <summary>The lock's file.</summary>
    internal static string PathOf(string storePath, string runId) => Path.Combine(storePath + "-locks", runId);

    private static FileStream? TryLock(string path)
    {
        try
        {
            return new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException)
        {
            return null;
        }
    }

    private static string HolderOf(string path) => path + ".process";

    private static string Holder(string path)
    {
        try
        {
            return int.TryParse(File.ReadAllText(HolderOf(path)), NumberStyles.None, CultureInfo.InvariantCulture, out int process)
                ? string.Create(CultureInfo.InvariantCulture, $" (process {process})")
                : string.Empty;
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            return string.Empty;
        }
    }
}
