using System.CommandLine;
using ProbeRunner.Records.Comparisons;
using ProbeRunner.Records.Exports;
using ProbeRunner.Records.Reports;
using ProbeRunner.Records.Store;
using ProbeRunner.Records.Summaries;

namespace ProbeRunner.Console.Commands;

/// <summary>Commands that read the store: <c>runs</c>, <c>show</c>, <c>report</c>, <c>export</c>. They never write to it.</summary>
internal static class RecordCommands
{
    /// <summary><c>runs</c>: a line a run.</summary>
    public static Command Runs(ProgramContext context) => Reading(
        "runs", "List the recorded runs, newest last.", context, [], (store, _) =>
        {
            Print(context, RunSummary.Table(store.List()));
        });

    /// <summary><c>show</c>: one run in a page of text.</summary>
    public static Command Show(ProgramContext context)
    {
        var run = RunArgument();
        return Reading("show", "Show one run: steps, verdicts, findings.", context, [run], (store, parsed) =>
        {
            var shown = store.Read(parsed.GetValue(run)!);
            Print(context, RunSummary.Show(shown));
            if (LastCapture.ComparedWith(store, shown) is { } since)
            {
                Print(context, ["", "Since the last capture:", .. ComparisonSummary.Lines(since)]);
            }
        });
    }

    /// <summary><c>report</c>: the report page.</summary>
    public static Command Report(ProgramContext context)
    {
        var run = RunArgument();
        var file = new Option<string>("-o", "--output") { Description = "The HTML file to write.", HelpName = "FILE", Required = true };
        return Reading("report", "Write a run's report: one self-contained HTML file.", context, [run, file], (store, parsed) =>
        {
            var path = parsed.GetValue(file)!;
            File.WriteAllText(path, ReportPage.Render(store, parsed.GetValue(run)!));
            context.Error.WriteLine($"Written: {Path.GetFullPath(path)}");
        });
    }

    /// <summary><c>export</c>: tables for other programs.</summary>
    public static Command Export(ProgramContext context)
    {
        var run = RunArgument();
        var folder = new Option<string>("-o", "--output") { Description = "The folder to write into; made if it is not there.", HelpName = "DIR", Required = true };
        return Reading("export", "Export a run as CSV tables for other programs, and as a file that import takes back.", context, [run, folder], (store, parsed) =>
        {
            foreach (var path in RunExport.Write(store.Read(parsed.GetValue(run)!), parsed.GetValue(folder)!))
            {
                context.Error.WriteLine($"Written: {path}");
            }
        });
    }

    private static void Print(ProgramContext context, IEnumerable<string> lines)
    {
        foreach (var line in lines)
        {
            context.Output.WriteLine(line);
        }
    }

    private static Argument<string> RunArgument() => new("RUN") { Description = "The run's id. See the runs command." };

    private static Command Reading(string name, string description, ProgramContext context, Symbol[] symbols, Action<RunStore, ParseResult> read)
    {
        var command = new Command(name, description);
        var store = SharedOptions.Store();
        command.Options.Add(store);
        foreach (var symbol in symbols)
        {
            if (symbol is Argument argument)
            {
                command.Arguments.Add(argument);
            }
            else
            {
                command.Options.Add((Option)symbol);
            }
        }

        command.SetAction(parsed =>
        {
            read(RunStore.OpenExisting(parsed.GetValue(store) ?? StoreLocation.Default(context.Environment)), parsed);
            return ExitCodes.Fit;
        });
        return command;
    }
}
