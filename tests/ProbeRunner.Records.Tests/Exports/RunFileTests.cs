using CsCheck;
using ProbeRunner.Records.Exports;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Store;
using ProbeRunner.Records.Tests.Sample;

namespace ProbeRunner.Records.Tests.Exports;

public sealed class RunFileTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void An_exported_run_read_back_is_the_same_run_in_another_store()
    {
        RunRecord run = Commission.Record;
        RunExport.Write(run, _folder.PathOf("out"));
        RunStore store = RunStore.Open(_folder.PathOf("other.db"));

        var (header, entries) = RunFile.Read(_folder.PathOf("out"));
        store.Import(header, entries);

        RunRecord back = store.Read(run.Header.RunId);
        Assert.Equal(run.Header, back.Header);
        Assert.Equal(run.Entries.AsEnumerable(), back.Entries.AsEnumerable());
        Assert.Equal(RunFile.Write(run), RunFile.Write(back));
    }

    [Fact]
    public void A_run_that_is_there_already_is_refused_and_stays_as_it_is()
    {
        RunStore store = RunStore.Open(_folder.PathOf("runs.db"));
        store.Import(Commission.Record.Header, Commission.Record.Entries);

        StoreUnusableException refused = Assert.Throws<StoreUnusableException>(() => store.Import(Commission.Stopped.Header, Commission.Stopped.Entries));

        Assert.Contains("already", refused.Message, StringComparison.Ordinal);
        Assert.Equal(Commission.Record.Entries.Length, store.Read(Commission.Record.Header.RunId).Entries.Length);
    }

    [Fact]
    public void A_file_with_any_byte_changed_is_refused_or_reads_as_the_same_run()
    {
        string text = RunFile.Write(Commission.Stopped);
        string path = _folder.PathOf("run.jsonl");
        Gen.Select(Gen.Int[0, text.Length - 1], Gen.Char[' ', '~']).Sample(
            (at, letter) =>
            {
                File.WriteAllText(path, text[..at] + letter + text[(at + 1)..]);
                try
                {
                    var (header, entries) = RunFile.Read(path);
                    return header == Commission.Stopped.Header && entries.SequenceEqual(Commission.Stopped.Entries);
                }
                catch (StoreUnusableException refused)
                {
                    return refused.Message.Contains("Nothing was imported", StringComparison.Ordinal);
                }
            },
            iter: 400,
            threads: 1);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(5)]
    public void A_file_that_was_cut_off_is_refused(int lines)
    {
        string[] whole = RunFile.Write(Commission.Record).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        File.WriteAllLines(_folder.PathOf("run.jsonl"), whole[..^lines]);

        StoreUnusableException refused = Assert.Throws<StoreUnusableException>(() => RunFile.Read(_folder.PathOf("run.jsonl")));

        Assert.Contains("missing at its end", refused.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("{}")]
    [InlineData("not json")]
    [InlineData("{\"format\":\"proberunner-run\",\"version\":1,\"header\":null,\"checksum\":\"00\"}")]
    [InlineData("{\"rows\":0}")]
    public void What_is_no_run_is_refused(string text)
    {
        File.WriteAllText(_folder.PathOf("run.jsonl"), text);

        Assert.Throws<StoreUnusableException>(() => RunFile.Read(_folder.PathOf("run.jsonl")));
    }
}
