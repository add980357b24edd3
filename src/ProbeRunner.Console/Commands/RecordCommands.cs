using System.CommandLine;
using ProbeRunner.Records.Comparisons;
using ProbeRunner.Records.Exports;
using ProbeRunner.Records.Reports;
using ProbeRunner.Records.Runs;
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
            return ExitCodes.Fit;
        });

    /// <summary><c>show</c>: one run in a page of text.</summary>
    public static Command Show(ProgramContext context)
    {
        var run = RunArgument();
        return Reading("show", "Show one run: steps, verdicts, findings.", context, [run], (store, parsed) =>
        {
            var shown = store.ReadSoundPart(parsed.GetValue(run)!);
            Print(context, RunSummary.Show(shown));
            if (LastCapture.ComparedWith(store, shown) is { } since)
            {
                Print(context, ["", "Since the last capture:", .. ComparisonSummary.Lines(since)]);
            }

            return Told(context, shown);
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
            var reported = store.ReadSoundPart(parsed.GetValue(run)!);
            File.WriteAllText(path, ReportPage.Render(store, reported));
            context.Error.WriteLine($"Written: {Path.GetFullPath(path)}");
            return Told(context, reported);
        });
    }

    /// <summary><c>export</c>: tables for other programs.</summary>
    public static Command Export(ProgramContext context)
    {
        var run = RunArgument();
        var folder = new Option<string>("-o", "--output") { Description = "The folder to write into; made if it is not there.", HelpName = "DIR", Required = true };
        return Reading("export", "Export a run as CSV tables for other programs, and as a file that import takes back.", context, [run, folder], (store, parsed) =>
        {
            var exported = store.ReadSoundPart(parsed.GetValue(run)!);
            foreach (var path in RunExport.Write(exported, parsed.GetValue(folder)!))
            {
                context.Error.WriteLine($"Written: {path}");
            }

            return Told(context, exported);
        });
    }

    /// <summary>Says what of a damaged record was left out; a whole one needs no word.</summary>
    private static int Told(ProgramContext context, RunRecord run)
    {
        if (run.DamagedFrom is not { } ordinal)
        {
            return ExitCodes.Fit;
        }

        context.Error.WriteLine(FormattableString.Invariant(
            $"The record of run {run.Header.RunId} is damaged from row {ordinal} on: only the {run.Entries.Length} rows before it are sound, and only they were used. The run cannot be resumed. Copy the store elsewhere, try its disk, and start a new run in another with --store."));
        return ExitCodes.NotFit;
    }

    private static void Print(ProgramContext context, IEnumerable<string> lines)
    {
        foreach (var line in lines)
        {
            context.Output.WriteLine(line);
        }
    }

    private static Argument<string> RunArgument() => new("RUN") { Description = "The run's id. See the runs command." };

    private static Command Reading(string name, string description, ProgramContext context, Symbol[] symbols, Func<RunStore, ParseResult, int> read)
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
            try
            {
                return read(RunStore.OpenExisting(parsed.GetValue(store) ?? StoreLocation.Default(context.Environment)), parsed);
            }
            catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
            {
                throw new UsageException($"It could not be written: {failure.Message} The record is as it was; name another place with -o.");
            }
        });
        return command;
    }
}
