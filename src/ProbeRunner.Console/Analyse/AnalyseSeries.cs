using System.CommandLine;
using ProbeRunner.Console.Analyse.Results;
using ProbeRunner.Console.Analyse.Tables;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.Series;
using ProbeRunner.Metrology.Verdicts;

namespace ProbeRunner.Console.Analyse;

/// <summary><c>analyse series</c>: whether a probe repeats, and what is wrong when it does not.</summary>
internal static class AnalyseSeries
{
    /// <summary>Makes the subcommand.</summary>
    public static Command Create(AnalyseSource source)
    {
        Argument<string> file = AnalyseSource.FileArgument("CSV of readings in mm, in the order taken");
        Option<bool> json = AnalyseOptions.Json();
        var column = new Option<string?>("--column") { Description = "Column of the readings, when there are several.", HelpName = "NAME" };
        var options = new SeriesOptions();
        var command = new Command(
            "series",
            """
            Judge readings taken at one place: scatter, drift, outliers, and a verdict: fit, not fit or undecided.

            Examples:
              proberunner analyse series readings.csv
              proberunner analyse series log.csv --column z --tolerance 0.1 --reference 0 --json
            """)
        {
            file, column,
        };
        options.AddTo(command);
        command.Add(json);
        command.SetAnalysis((parsed, output) =>
        {
            Table table = source.Table(parsed.GetRequiredValue(file));
            double[] readings = table.Numbers(ReadingsColumn(table, parsed.GetValue(column)));
            SeriesAnalysis analysis = AnswerFromFile.Of(SeriesAnalysis.Analyse(readings, options.Question(parsed)), table.File);
            if (parsed.GetValue(json))
            {
                SeriesOutput.WriteJson(output, analysis);
            }
            else
            {
                SeriesOutput.WriteText(output, table.File, analysis);
            }

            return analysis.Verdict.State == VerdictState.Fit;
        });
        return command;
    }

    private static int ReadingsColumn(Table table, string? name)
    {
        if (name is not null)
        {
            return table.Column(name);
        }

        return table.Width == 1
            ? 0
            : throw new FileFaultException([new FileFault(
                table.Rows[0][1].Where,
                FormattableString.Invariant($"there are {table.Width} columns"),
                table.Header.Count > 0
                    ? "choose one with --column: " + string.Join(", ", table.Header.Select(cell => Printable.Text(cell.Text)))
                    : "expected one column of numbers with a decimal point, or a header row and --column")]);
    }
}
