using System.Globalization;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Exports;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Tests.Sample;
using Sylvan.Data.Csv;

namespace ProbeRunner.Records.Tests.Exports;

public sealed class RunExportTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Every_table_is_written_and_reads_back_with_another_reader()
    {
        RunRecord run = Commission.Record;

        IReadOnlyList<string> files = RunExport.Write(run, _folder.PathOf("out"));

        Assert.Equal(["readings.csv", "prompts.csv", "settings.csv", "conclusions.csv", "journal.csv", "run.jsonl"], files.Select(Path.GetFileName));
        Assert.Equal(14 + 81, Rows(files[0]).Count);
        Assert.Equal(run.Prompts.Length, Rows(files[1]).Count);
        Assert.Equal(["probe offset Z", "0.000 mm", "'-2.177 mm"], Rows(files[2]).Single()[3..]);
        Assert.Equal(run.Entries.Length, Rows(files[4]).Count);
        Assert.Equal(run.Entries[^1].Reply, Rows(files[4])[^1][6]);
    }

    [Fact]
    public void Heights_read_back_to_the_last_bit_under_any_culture()
    {
        RunRecord run = Commission.Record;

        List<string[]> rows = Rows(RunExport.Write(run, _folder.Path)[0]);

        Assert.Equal(
            run.Steps.SelectMany(step => step.Readings).Select(item => item.Reading.Z),
            rows.Select(row => double.Parse(row[7], CultureInfo.InvariantCulture)));
    }

    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("+491234", "'+491234")]
    [InlineData("-2+3", "'-2+3")]
    [InlineData("@SUM(A1)", "'@SUM(A1)")]
    [InlineData("\t=1", "'\\u{09}=1")]
    [InlineData("\r=1", "'\\u{0D}=1")]
    [InlineData("he said \"no\", then\nleft", "he said \"no\", then\\u{0A}left")]
    [InlineData("plain", "plain")]
    [InlineData("", "")]
    public void Text_that_a_spreadsheet_would_run_is_shown_as_text(string answer, string shown)
    {
        SampleRun run = new SampleRun().Session().Step("series", "Series").Ask("series.note", "Anything to note?", answer);

        string[] row = Rows(RunExport.Write(RunReader.Read(SampleRun.Header(), run.Entries), _folder.Path)[1]).Single();

        Assert.Equal(shown, row[5]);
    }

    [Fact]
    public void A_negative_number_stays_a_number()
    {
        var run = new SampleRun();
        run.Session().Step("series", "Series").Touch(run.At(-1.5, 20, -0.0125));

        string[] row = Rows(RunExport.Write(RunReader.Read(SampleRun.Header(), run.Entries), _folder.Path)[0]).Single();

        Assert.Equal(["-1.5", "20", "-0.0125"], row[5..8]);
    }

    [Fact]
    public void A_finding_without_an_effect_in_millimetres_leaves_that_field_empty()
    {
        var finding = new Finding("bed.unreached", "Not measured.", null, "right", 0.9, "Out of reach.", "Look.");
        SampleRun run = new SampleRun().Session().Step("grid", "Grid").Conclude(new PlainConclusion(Commission.Fit(1, "done."), [finding]));

        List<string[]> rows = Rows(RunExport.Write(RunReader.Read(SampleRun.Header(), run.Entries), _folder.Path)[3]);

        Assert.Equal(["verdict", "", "fit", "1"], rows[0][2..6]);
        Assert.Equal(["finding", "bed.unreached", "", "0.9", ""], rows[1][2..7]);
    }

    private static List<string[]> Rows(string path)
    {
        using var reader = CsvDataReader.Create(path, new CsvDataReaderOptions { BufferSize = 1 << 20 });
        List<string[]> rows = [];
        while (reader.Read())
        {
            rows.Add([.. Enumerable.Range(0, reader.FieldCount).Select(reader.GetString)]);
        }

        return rows;
    }
}
