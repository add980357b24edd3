using System.Runtime.InteropServices;
using System.Runtime.Versioning;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Store;
using ProbeRunner.Records.Tests.Sample;

namespace ProbeRunner.Records.Tests.Store;

/// <summary>A store that may be read and not written: an archive, another user's. Linux, where even the superuser can be bound by permissions.</summary>
public sealed class UnwritableStoreTests : IDisposable
{
    private const UnixFileMode ReadByAll = UnixFileMode.UserRead | UnixFileMode.GroupRead | UnixFileMode.OtherRead;
    private const UnixFileMode EnterByAll = ReadByAll | UnixFileMode.UserExecute | UnixFileMode.GroupExecute | UnixFileMode.OtherExecute;
    private readonly TemporaryFolder _folder = new();

    private string StorePath => _folder.PathOf("runs.db");

    private static string RunName => SampleRun.Header().RunId;

    public void Dispose()
    {
        if (OperatingSystem.IsLinux())
        {
            File.SetUnixFileMode(_folder.Path, EnterByAll | UnixFileMode.UserWrite);
        }

        _folder.Dispose();
    }

    [Fact]
    public void It_is_read_and_no_run_is_begun_or_taken_up_in_it()
    {
        if (!OperatingSystem.IsLinux())
        {
            return;
        }

        Write().Dispose();
        Lock();
        using (new AnotherUser())
        {
            RunStore store = RunStore.OpenExisting(StorePath);
            Assert.Equal(Commission.Journal().Entries.AsEnumerable(), store.Read(RunName).Entries.AsEnumerable());
            Assert.Equal(RunName, Assert.Single(store.List()).RunId);
            string refused = Assert.Throws<StoreUnusableException>(store.ProveWritable).Message;
            Assert.Contains("nothing has moved", refused, StringComparison.Ordinal);
            Assert.Throws<StoreUnusableException>(() => RunStore.Open(StorePath));
            Assert.Throws<StoreUnusableException>(() => store.OpenForResume(RunName));
        }
    }

    [Fact]
    public void While_its_owner_writes_it_is_read_up_to_the_last_row()
    {
        if (!OperatingSystem.IsLinux())
        {
            return;
        }

        using RunJournal writing = Write();
        Lock();
        using (new AnotherUser())
        {
            Assert.Equal(Commission.Journal().Entries.Length, RunStore.OpenExisting(StorePath).Read(RunName).Entries.Length);
        }
    }

    private RunJournal Write()
    {
        RunJournal journal = RunStore.Open(StorePath).Create(SampleRun.Header());
        foreach (JournalEntry entry in Commission.Journal().Entries)
        {
            journal.Append(entry);
        }

        return journal;
    }

    [SupportedOSPlatform("linux")]
    private void Lock()
    {
        foreach (string file in Directory.EnumerateFiles(_folder.Path))
        {
            File.SetUnixFileMode(file, ReadByAll);
        }

        File.SetUnixFileMode(_folder.Path, EnterByAll);
    }

    /// <summary>This thread's files as another user's: the superuser's rights over files go with it. Without such rights nothing changes.</summary>
    private sealed class AnotherUser : IDisposable
    {
        private const int Nobody = 65_534;
        private readonly int _before = UseFilesAs(Nobody);

        public void Dispose() => _ = UseFilesAs(_before);

        [DllImport("libc", EntryPoint = "setfsuid")]
        private static extern int UseFilesAs(int user);
    }
}
