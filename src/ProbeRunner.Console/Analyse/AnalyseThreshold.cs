using System.CommandLine;
using ProbeRunner.Console.Analyse.Results;
using ProbeRunner.Console.Analyse.Tables;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.Thresholds;

namespace ProbeRunner.Console.Analyse;

/// <summary><c>analyse threshold</c>: the height at which paper begins to drag, from yes-or-no answers.</summary>
internal static class AnalyseThreshold
{
    /// <summary>Makes the subcommand.</summary>
    public static Command Create(AnalyseSource source)
    {
        Argument<string> file = AnalyseSource.FileArgument("CSV with the columns height in mm and felt, 0 or 1");
        Option<bool> json = AnalyseOptions.Json();
        var command = new Command(
            "threshold",
            """
            Find the height at which drag is felt half of the time, with its uncertainty.

            Example:
              proberunner analyse threshold answers.csv --json
            """)
        {
            file, json,
        };
        command.SetAnalysis((parsed, output) =>
        {
            Table table = source.Table(parsed.GetRequiredValue(file));
            Trial[] trials = Trials(table);
            ThresholdAnalysis analysis = AnswerFromFile.Of(ThresholdAnalysis.Of(trials), table.File);
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, new { analysis.Threshold, analysis.StandardError, analysis.Scale, analysis.Method });
            }
            else
            {
                WriteText(output, table.File, trials, analysis);
            }

            return true;
        });
        return command;
    }

    private static Trial[] Trials(Table table)
    {
        IReadOnlyList<int> columns = table.Columns("height", "felt");
        double[] heights = table.Numbers(columns[0]);
        var faults = new FaultList();
        foreach (Cell felt in table.Rows.Select(row => row[columns[1]]).Where(felt => felt.Number is not (0 or 1)))
        {
            faults.Add(felt.Where, $"\"{Printable.Text(felt.Text)}\" is no answer", "expected 0 when nothing was felt, 1 when drag was felt");
        }

        faults.ThrowIfAny();
        return [.. table.Rows.Select((row, i) => new Trial(heights[i], row[columns[1]].Number == 1))];
    }

    private static void WriteText(TextWriter output, string name, Trial[] trials, ThresholdAnalysis analysis)
    {
        output.WriteLine(FormattableString.Invariant($"{name}: {trials.Length} answers, {trials.Count(trial => trial.Felt)} felt"));
        var table = new TextTable();
        table.Add("threshold", analysis.Threshold, "mm");
        table.Add("standard error", analysis.StandardError, "mm");
        table.Add("person's own sigma", analysis.Scale, "mm");
        table.Add("method", analysis.Method);
        table.Write(output);
    }
}
