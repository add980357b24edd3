using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Store;
using ProbeRunner.Records.Tests.Sample;

namespace ProbeRunner.Records.Tests.Store;

public sealed class DamageTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_flipped_bit_anywhere_is_detected_or_changes_nothing_that_is_read()
    {
        string sound = Written();
        RunRecord expected = RunStore.OpenExisting(sound).Read(SampleRun.Header().RunId);
        byte[] content = File.ReadAllBytes(sound);
        var chance = new Random(20);
        int detected = 0;
        for (int flip = 0; flip < 400; flip++)
        {
            byte[] flipped = [.. content];
            flipped[chance.Next(flipped.Length)] ^= (byte)(1 << chance.Next(8));
            string path = _folder.PathOf("flipped.db");
            File.WriteAllBytes(path, flipped);
            try
            {
                RunRecord found = RunStore.OpenExisting(path).Read(SampleRun.Header().RunId);
                Assert.Equal(expected.Header, found.Header);
                Assert.Equal(expected.Entries.AsEnumerable(), found.Entries.AsEnumerable());
            }
            catch (Exception told) when (told is JournalDamagedException or StoreUnusableException)
            {
                detected++;
            }

            foreach (string leftover in Directory.EnumerateFiles(_folder.Path, "flipped.db*"))
            {
                File.Delete(leftover);
            }
        }

        // Most of the file is rows, so most flips hit one.
        Assert.InRange(detected, 200, 400);
    }

    [Fact]
    public void A_changed_number_is_named_by_its_row_and_the_rows_before_it_stay_readable()
    {
        string path = Written();
        Edit(path, "UPDATE entry SET reply = replace(reply, '\"z\":0.01', '\"z\":0.02') WHERE ordinal = (SELECT min(ordinal) FROM entry WHERE reply LIKE '%\"z\":0.01%')");
        RunStore store = RunStore.OpenExisting(path);

        JournalDamagedException damage = Assert.Throws<JournalDamagedException>(() => store.Read(SampleRun.Header().RunId));

        RunRecord sound = store.ReadSoundPart(SampleRun.Header().RunId);
        Assert.Equal(damage.Ordinal, sound.DamagedFrom);
        Assert.Equal(damage.Ordinal - 1, sound.Entries.Length);
        Assert.Equal(RunState.Damaged, sound.State);
        Assert.Throws<JournalDamagedException>(() => store.OpenForResume(SampleRun.Header().RunId));
    }

    [Theory]
    [InlineData("DELETE FROM entry WHERE ordinal = 7")]
    [InlineData("DELETE FROM entry WHERE ordinal = (SELECT max(ordinal) FROM entry)")]
    [InlineData("UPDATE entry SET at_ticks = at_ticks + 1 WHERE ordinal = 9")]
    [InlineData("UPDATE entry SET kind = 'Voided' WHERE ordinal = 9")]
    [InlineData("UPDATE entry SET step = 3 WHERE ordinal = 2")]
    [InlineData("UPDATE run SET header = replace(header, 'wren-240', 'wren-241')")]
    public void Whatever_is_edited_is_noticed(string edit)
    {
        string path = Written();
        Edit(path, edit);

        Assert.Throws<JournalDamagedException>(() => RunStore.OpenExisting(path).Read(SampleRun.Header().RunId));
    }

    [Fact]
    public void A_damaged_run_is_listed_as_damaged_beside_sound_ones()
    {
        string path = Written();
        using (RunJournal other = RunStore.Open(path).Create(SampleRun.Header("20261124-0700-bcd")))
        {
        }

        Edit(path, "UPDATE entry SET reply = replace(reply, '0.96', '0.99') WHERE ordinal = (SELECT max(ordinal) FROM entry)");

        Assert.Equal([RunState.Damaged, RunState.Interrupted], RunStore.OpenExisting(path).List().Select(run => run.State));
    }

    private string Written()
    {
        string path = _folder.PathOf("runs.db");
        using RunJournal journal = RunStore.Open(path).Create(SampleRun.Header());
        foreach (JournalEntry entry in Commission.Journal().Entries)
        {
            journal.Append(entry);
        }

        return path;
    }

    private static void Edit(string path, string sql)
    {
        using var connection = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={path};Pooling=False");
        connection.Open();
        using Microsoft.Data.Sqlite.SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        Assert.NotEqual(0, command.ExecuteNonQuery());
    }
}
