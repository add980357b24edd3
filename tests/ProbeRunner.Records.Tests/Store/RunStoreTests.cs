using Microsoft.Data.Sqlite;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Store;
using ProbeRunner.Records.Tests.Child;
using ProbeRunner.Records.Tests.Sample;

namespace ProbeRunner.Records.Tests.Store;

public sealed class RunStoreTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    private string StorePath => _folder.PathOf("runs.db");

    private static string RunName => SampleRun.Header().RunId;

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

        RunRecord record = store.Read(RunName);
        Assert.Equal(SampleRun.Header(), record.Header);
        Assert.Equal(sample.Entries.AsEnumerable(), record.Entries.AsEnumerable());
        Assert.Equal(RunState.Ended, record.State);
        Assert.Equal(81, record.Steps.Single(step => step.Name == "grid").Readings.Length);
    }

    [Fact]
    public void A_journal_longer_than_a_page_is_read_to_its_end_while_rows_are_added_and_damage_in_it_is_told()
    {
        const int Rows = 700;
        using (RunJournal journal = RunStore.Open(StorePath).Create(SampleRun.Header()))
        {
            for (int row = 1; row <= Rows; row++)
            {
                journal.Append(Program.Row(row));
            }

            long expected = 0;
            foreach (JournalEntry entry in journal.ReadAll())
            {
                Assert.Equal(Program.Row(++expected), entry);
                if (expected == Rows / 2)
                {
                    journal.Append(Program.Row(Rows + 1));
                }
            }

            Assert.Equal(Rows + 1, expected);
        }

        using (var other = new SqliteConnection($"Data Source={StorePath};Pooling=False"))
        {
            other.Open();
            Execute(other, "UPDATE entry SET section = 'x' WHERE ordinal = 600");
        }

        RunStore store = RunStore.OpenExisting(StorePath);
        Assert.Equal(600, Assert.Throws<JournalDamagedException>(() => store.OpenForResume(RunName)).Ordinal);
        Assert.Equal(600, Assert.Throws<JournalDamagedException>(() => store.ReadHeader(RunName)).Ordinal);
    }

    [Fact]
    public void A_reader_sees_each_row_as_soon_as_it_is_acknowledged()
    {
        RunStore store = RunStore.Open(StorePath);
        using RunJournal journal = store.Create(SampleRun.Header());
        for (long ordinal = 1; ordinal <= 5; ordinal++)
        {
            journal.Append(Program.Row(ordinal));

            RunRecord record = RunStore.OpenExisting(StorePath).Read(RunName);
            Assert.Equal(ordinal, record.Entries.Length);
            Assert.Equal(RunState.Running, record.State);
        }
    }

    [Fact]
    public void An_ordinal_that_repeats_or_leaves_a_gap_is_refused()
    {
        using RunJournal journal = RunStore.Open(StorePath).Create(SampleRun.Header());
        journal.Append(Program.Row(1));

        Assert.Throws<ArgumentException>(() => journal.Append(Program.Row(1)));
        Assert.Throws<ArgumentException>(() => journal.Append(Program.Row(3)));
        journal.Append(Program.Row(2));
        Assert.Equal(2, journal.ReadAll().Count());
    }

    [Fact]
    public void A_run_goes_on_where_it_was_left()
    {
        RunStore store = RunStore.Open(StorePath);
        using (RunJournal first = store.Create(SampleRun.Header()))
        {
            first.Append(Program.Row(1));
        }

        Assert.Equal(RunState.Interrupted, store.Read(RunName).State);
        using RunJournal second = store.OpenForResume(RunName);
        second.Append(Program.Row(2));
        Assert.Equal([Program.Row(1), Program.Row(2)], second.ReadAll());
    }

    [Fact]
    public void A_complete_run_is_not_taken_up_again_and_leaves_no_lock_behind()
    {
        RunStore store = RunStore.Open(StorePath);
        using (RunJournal journal = store.Create(SampleRun.Header()))
        {
            foreach (JournalEntry entry in Commission.Journal().Entries)
            {
                journal.Append(entry);
            }
        }

        Assert.Empty(Directory.EnumerateFiles(StorePath + "-locks"));
        StoreUnusableException refused = Assert.Throws<StoreUnusableException>(() => store.OpenForResume(RunName));
        Assert.Contains("is complete", refused.Message, StringComparison.Ordinal);
        Assert.IsType<RunOutcome.Completed>(store.List().Single().Outcome);
    }

    [Fact]
    public void After_one_failure_the_journal_takes_nothing_more()
    {
        RunStore store = RunStore.Open(StorePath);
        using RunJournal journal = store.Create(SampleRun.Header());
        journal.Append(Program.Row(1));
        using (var other = new SqliteConnection($"Data Source={StorePath};Pooling=False"))
        {
            other.Open();
            Execute(other, "CREATE TRIGGER full BEFORE INSERT ON entry BEGIN SELECT raise(ABORT, 'the medium is full'); END");
            Assert.Throws<JournalFailedException>(() => journal.Append(Program.Row(2)));
            Execute(other, "DROP TRIGGER full");
        }

        Assert.Throws<JournalFailedException>(() => journal.Append(Program.Row(2)));
        Assert.Equal(Program.Row(1), Assert.Single(store.Read(RunName).Entries));
    }

    [Fact]
    public void What_the_controller_said_of_itself_is_found_in_the_journal()
    {
        SampleRun run = new SampleRun().Session().Fact("""{"kind":"identify"}""", """{"serialNumber":"WR-0173"}""");

        Assert.Equal("""{"serialNumber":"WR-0173"}""", RunReader.Read(SampleRun.Header(), run.Entries).Header.ControllerIdentity);
    }

    [Fact]
    public void A_stopped_run_is_taken_up_again_and_has_no_outcome_until_the_next()
    {
        RunStore store = RunStore.Open(StorePath);
        SampleRun run = new SampleRun().Session().End(new RunOutcome.Stopped("Parked.", new StepVerdict(VerdictWord.Undecided, 0, "stopped.")));
        using (RunJournal first = store.Create(SampleRun.Header()))
        {
            run.Entries.ToList().ForEach(first.Append);
        }

        Assert.Equal(RunState.Ended, store.Read(RunName).State);
        Assert.True(store.List().Single().IsResumable);
        using (RunJournal second = store.OpenForResume(RunName))
        {
            second.Append(run.Session(resumed: true).Entries[^1]);
        }

        Assert.Equal(RunState.Interrupted, store.Read(RunName).State);
        Assert.Null(store.Read(RunName).Outcome);
    }

    [Fact]
    public void Several_runs_are_written_side_by_side_and_listed_newest_first()
    {
        RunStore store = RunStore.Open(StorePath);
        using RunJournal first = store.Create(SampleRun.Header("20261125-0830-kqv"));
        using RunJournal second = store.Create(SampleRun.Header("20261125-0915-bcd"));
        for (long ordinal = 1; ordinal <= 20; ordinal++)
        {
            first.Append(Program.Row(ordinal));
            second.Append(Program.Row(ordinal));
        }

        Assert.Equal(["20261125-0915-bcd", "20261125-0830-kqv"], store.List().Select(run => run.RunId));
        Assert.Throws<StoreUnusableException>(() => store.Create(SampleRun.Header("20261125-0830-kqv")));
    }

    [Fact]
    public void A_store_of_a_newer_program_is_refused_untouched()
    {
        RunStore.Open(StorePath);
        using (var other = new SqliteConnection($"Data Source={StorePath};Pooling=False"))
        {
            other.Open();
            Execute(other, "PRAGMA user_version = 99");
        }

        StoreUnusableException refused = Assert.Throws<StoreUnusableException>(() => RunStore.Open(StorePath));
        Assert.Contains("newer version", refused.Message, StringComparison.Ordinal);
        Assert.Contains("99", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_database_of_another_program_and_a_file_that_is_none_are_refused_untouched()
    {
        string foreign = _folder.PathOf("foreign.db");
        using (var other = new SqliteConnection($"Data Source={foreign};Pooling=False"))
        {
            other.Open();
            Execute(other, "CREATE TABLE songs (title TEXT)");
        }

        string text = _folder.PathOf("letter.txt");
        File.WriteAllText(text, new string('x', 5000));
        byte[] before = File.ReadAllBytes(foreign);

        Assert.Contains("some other program", Assert.Throws<StoreUnusableException>(() => RunStore.Open(foreign)).Message, StringComparison.Ordinal);
        Assert.Throws<StoreUnusableException>(() => RunStore.Open(text));
        Assert.Equal(before, File.ReadAllBytes(foreign));
        Assert.Equal(new string('x', 5000), File.ReadAllText(text));
    }

    [Theory]
    [InlineData("../../etc/passwd")]
    [InlineData("")]
    [InlineData("20261125-0830-zzz")]
    public void A_run_that_is_not_there_is_said_so(string runId)
    {
        RunStore store = RunStore.Open(StorePath);

        Assert.Throws<StoreUnusableException>(() => store.Read(runId));
        Assert.Throws<StoreUnusableException>(() => store.OpenForResume(runId));
    }

    [Fact]
    public void A_missing_store_is_not_made_by_reading()
    {
        Assert.Throws<StoreUnusableException>(() => RunStore.OpenExisting(StorePath));
        Assert.False(File.Exists(StorePath));
    }

    [Fact]
    public void Names_of_runs_sort_by_their_start_and_are_valid()
    {
        var chance = new Random(1);
        string[] names = [.. Enumerable.Range(0, 50).Select(minute => RunId.New(SampleRun.Start.AddMinutes(minute * 37), chance))];

        Assert.All(names, name => Assert.True(RunId.IsValid(name)));
        Assert.Equal(names.Order(StringComparer.Ordinal), names);
    }

    private static void Execute(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
