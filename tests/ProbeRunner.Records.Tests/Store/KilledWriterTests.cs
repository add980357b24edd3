using System.Globalization;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Store;
using ProbeRunner.Records.Tests.Child;

namespace ProbeRunner.Records.Tests.Store;

public sealed class KilledWriterTests : IDisposable
{
    private const string RunName = "20261125-0830-kqv";
    private readonly TemporaryFolder _folder = new();

    private string StorePath => _folder.PathOf("runs.db");

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Killed_at_25_random_moments_a_run_has_every_acknowledged_row_once_and_goes_on()
    {
        RunStore store = RunStore.Open(StorePath);
        var chance = new Random(25);
        long acknowledged = 0;
        for (int round = 0; round < 25; round++)
        {
            using WritingProcess child = WritingProcess.Start(StorePath, RunName, 100_000);
            int rows = chance.Next(0, 120);
            string? said = child.ReadLine();
            Assert.Equal("ready", said);
            for (int row = 0; row < rows; row++)
            {
                acknowledged = long.Parse(child.ReadLine()!, CultureInfo.InvariantCulture);
            }

            // A reader may look at any time, and sees the writer at work.
            Assert.Equal(RunState.Running, store.List().Single().State);
            string[] rest = child.KillAndReadTheRest();
            acknowledged = rest.Length > 0 ? long.Parse(rest[^1], CultureInfo.InvariantCulture) : acknowledged;

            RunRecord record = store.Read(RunName);
            Assert.Equal(RunState.Interrupted, record.State);
            Assert.InRange(record.Entries.Length, acknowledged, acknowledged + 1);
            Assert.Equal(Enumerable.Range(1, record.Entries.Length).Select(ordinal => Program.Row(ordinal)), record.Entries);
        }
    }

    [Fact]
    public void Two_processes_never_write_one_run()
    {
        RunStore store = RunStore.Open(StorePath);
        using WritingProcess child = WritingProcess.Start(StorePath, RunName, 100_000);
        Assert.Equal("ready", child.ReadLine());

        StoreUnusableException refused = Assert.Throws<StoreUnusableException>(() => store.OpenForResume(RunName));

        Assert.Contains(string.Create(CultureInfo.InvariantCulture, $"process {child.Id}"), refused.Message, StringComparison.Ordinal);
        child.KillAndReadTheRest();
        using RunJournal resumed = store.OpenForResume(RunName);
        Assert.Equal(RunName, resumed.Header.RunId);
    }

    [Fact]
    public void A_full_disk_ends_the_journal_and_what_was_acknowledged_stays_readable()
    {
        if (OperatingSystem.IsWindows())
        {
            // There the limit on file size that stands for a full disk does not exist; the latch is tested on every system below.
            return;
        }

        using WritingProcess child = WritingProcess.StartOnFullDisk(StorePath, RunName, 100_000, 600);

        string[] said = child.ReadTheRest();

        Assert.Equal(["failed", "refused"], said[^2..]);
        long acknowledged = long.Parse(said[^3], CultureInfo.InvariantCulture);
        Assert.True(acknowledged > 10);
        RunRecord record = RunStore.OpenExisting(StorePath).Read(RunName);
        Assert.InRange(record.Entries.Length, acknowledged, acknowledged + 1);
        using RunJournal resumed = RunStore.Open(StorePath).OpenForResume(RunName);
        resumed.Append(Program.Row(record.Entries.Length + 1));
    }
}
