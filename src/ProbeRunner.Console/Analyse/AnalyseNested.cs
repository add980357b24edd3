using System.CommandLine;
using ProbeRunner.Console.Analyse.Results;
using ProbeRunner.Console.Analyse.Tables;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.Nested;

namespace ProbeRunner.Console.Analyse;

/// <summary><c>analyse nested</c>: where the scatter comes from.</summary>
internal static class AnalyseNested
{
    /// <summary>Makes the subcommand.</summary>
    public static Command Create(AnalyseSource source)
    {
        Argument<string> file = AnalyseSource.FileArgument("CSV with a header row, a column for each level and one of readings");
        Option<bool> json = AnalyseOptions.Json();
        var levels = new Option<string?>("--levels")
        {
            Description = "Columns of the levels, outermost first; all but the value's unless given.",
            HelpName = "NAME,NAME",
        };
        var value = new Option<string?>("--value") { Description = "Column of the readings; the last one unless given.", HelpName = "NAME" };
        var command = new Command(
            "nested",
            """
            Split the scatter of readings between the levels at which it arises: homing, extending, touching.

            Example:
              proberunner analyse nested touches.csv --levels homing,extension --value z
            """)
        {
            file, levels, value, json,
        };
        command.SetAnalysis((parsed, output) =>
        {
            Table table = source.Table(parsed.GetRequiredValue(file));
            NestedAnalysis analysis = Analyse(table, parsed.GetValue(levels), parsed.GetValue(value));
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, new
                {
                    Components = analysis.Components.Select(component => new { component.Level, component.Variance, component.DegreesOfFreedom }),
                });
            }
            else
            {
                WriteText(output, table, analysis);
            }

            return true;
        });
        return command;
    }

    private static NestedAnalysis Analyse(Table table, string? levels, string? value)
    {
        if (table.Header.Count < 2)
        {
            throw new FileFaultException(
                [new FileFault(table.Rows[0][0].Where, "the columns have no names", "expected a header row, such as homing,extension,z")]);
        }

        int valueColumn = value is null ? table.Width - 1 : table.Column(value);
        IReadOnlyList<int> levelColumns = levels is null
            ? [.. Enumerable.Range(0, table.Width).Where(column => column != valueColumn)]
            : [.. levels.Split(',', StringSplitOptions.TrimEntries).Select(table.Column)];
        if (levelColumns.Contains(valueColumn) || levelColumns.Distinct().Count() != levelColumns.Count)
        {
            throw new FileFaultException(
                [new FileFault(table.Header[0].Where, "a column is asked for twice", "expected each level and the value once")]);
        }

        double[] readings = table.Numbers(valueColumn);
        var faults = new FaultList();
        foreach (Cell label in table.Rows.SelectMany(row => levelColumns.Select(column => row[column])).Where(label => label.Text.Length == 0))
        {
            faults.Add(label.Where, "the level is empty", "expected a name or number that says which group the reading belongs to");
        }

        faults.ThrowIfAny();
        NestedReading[] nested = [.. table.Rows.Select((row, i) =>
            new NestedReading([.. levelColumns.Select(column => row[column].Text)], readings[i]))];
        return AnswerFromFile.Of(NestedAnalysis.Of(nested, [.. levelColumns.Select(column => table.Header[column].Text)]), table.File);
    }

    private static void WriteText(TextWriter output, Table table, NestedAnalysis analysis)
    {
        output.WriteLine(FormattableString.Invariant($"{table.File}: {table.Rows.Count} readings"));
        var summary = new TextTable();
        summary.Add("mean", $"{Figure.Of(analysis.Mean)} mm, standard error {Figure.Of(analysis.MeanStandardError)} mm");
        summary.Add("sigma of a reading taken all anew", Math.Sqrt(analysis.TotalVariance), "mm");
        summary.Write(output);
        output.WriteLine($"Where the scatter comes from, outermost level first ({Figure.Percent(analysis.Confidence)} intervals of sigma):");
        var components = new TextTable();
        foreach (VarianceComponent component in analysis.Components)
        {
            double share = analysis.TotalVariance > 0 ? component.Variance / analysis.TotalVariance : 0;
            components.Add(
                Figure.Name(component.Level),
                FormattableString.Invariant($"sigma {Figure.Of(component.Sigma)} mm ({Figure.Of(Math.Sqrt(component.Lower))} to {Figure.Of(Math.Sqrt(component.Upper))}), ")
                + FormattableString.Invariant($"{Figure.Percent(share)} of the variance, {component.DegreesOfFreedom} degrees of freedom"));
        }

        components.Write(output);
    }
}
