using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Comparisons;
using ProbeRunner.Records.Reports;
using ProbeRunner.Records.Store;
using ProbeRunner.Records.Tests.Sample;

namespace ProbeRunner.Records.Tests.Comparisons;

public sealed class LastCaptureTests
{
    [Fact]
    public void A_run_is_set_beside_the_capture_before_it_and_the_first_one_beside_none()
    {
        using var folder = new TemporaryFolder();
        RunStore store = RunStore.Open(Path.Combine(folder.Path, "runs.db"));
        RunHeader first = Write(store, 0), second = Write(store, 1);

        Assert.Null(LastCapture.ComparedWith(store, store.Read(first.RunId)));
        RunComparison since = LastCapture.ComparedWith(store, store.Read(second.RunId))!;

        Assert.Equal((first.RunId, second.RunId), (since.Earlier, since.Later));
        string page = ReportPage.Render(store, store.Read(second.RunId));
        Assert.Contains("Since the last capture", page, StringComparison.Ordinal);
        Assert.Contains(first.RunId, page, StringComparison.Ordinal);
        Assert.DoesNotContain("Since the last capture", ReportPage.Render(store, store.Read(first.RunId)), StringComparison.Ordinal);
    }

    [Fact]
    public void Another_machine_s_capture_is_no_earlier_one()
    {
        using var folder = new TemporaryFolder();
        RunStore store = RunStore.Open(Path.Combine(folder.Path, "runs.db"));
        Write(store, 0, machine: "heron-330");

        Assert.Null(LastCapture.ComparedWith(store, store.Read(Write(store, 1).RunId)));
    }

    private static RunHeader Write(RunStore store, int day, string machine = "wren-240")
    {
        RunHeader sample = SampleRun.Header();
        RunHeader header = sample with { RunId = $"2026112{day}-0830-kqv", StartedAt = sample.StartedAt.AddDays(day), MachineName = machine };
        using RunJournal journal = store.Create(header);
        foreach (JournalEntry entry in Commission.Journal().Entries)
        {
            journal.Append(entry);
        }

        return header;
    }
}
