using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Store;
using ProbeRunner.Records.Tests.Sample;

namespace ProbeRunner.Records.Tests.Store;

public sealed class RunStoreTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    private string StorePath => _folder.PathOf("runs.db");

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void What_was_appended_is_read_back_as_it_was()
    {
        SampleRun sample = Commission.Journal();
        RunStore store = RunStore.Open(StorePath);
        using (RunJournal journal = store.Create(SampleRun.Header()))
        {
            foreach (JournalEntry entry in sample.Entries)
            {
                journal.Append(entry);
            }

            Assert.Equal(sample.Entries.AsEnumerable(), journal.ReadAll());
        }

        RunRecord record = store.Read(SampleRun.Header().RunId);
        Assert.Equal(SampleRun.Header(), record.Header);
        Assert.Equal(sample.Entries.AsEnumerable(), record.Entries.AsEnumerable());
        Assert.Equal(RunState.Ended, record.State);
        Assert.Equal(81, record.Steps.Single(step => step.Name == "grid").Readings.Length);
    }
}
