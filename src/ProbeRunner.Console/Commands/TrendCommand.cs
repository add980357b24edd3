using System.CommandLine;
using ProbeRunner.Console.Analyse.Results;
using ProbeRunner.Metrology.Histories;
using ProbeRunner.Records.Histories;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Store;
using ProbeRunner.Records.Summaries;

namespace ProbeRunner.Console.Commands;

/// <summary><c>trend</c>: all runs of a machine over time.</summary>
internal static class TrendCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Create(ProgramContext context)
    {
        var machine = new Argument<string>("M") { Description = "The machine's name, as the runs command lists it." };
        var json = new Option<bool>("--json") { Description = "Print one JSON object." };
        var simulated = new Option<bool>("--simulated") { Description = "Take the runs on the simulated machine instead of those on the real one." };
        var store = SharedOptions.Store();
        var command = new Command("trend", "Follow a machine's Z offset, probe scatter, tilt and flatness over all its runs; a step or a drift is named with its confidence. Exit code 1 when there is one.")
        {
            machine, json, simulated, store,
        };
        command.SetAction(parsed =>
        {
            var runs = RunStore.OpenExisting(parsed.GetValue(store) ?? StoreLocation.Default(context.Environment));
            var history = Gather(runs, parsed.GetValue(machine)!, parsed.GetValue(simulated), context.Error);
            if (parsed.GetValue(json))
            {
                WriteJson(context.Output, history);
            }
            else
            {
                foreach (var line in HistorySummary.Lines(history))
                {
                    context.Output.WriteLine(line);
                }
            }

            return history.HasChanged ? ExitCodes.NotFit : ExitCodes.Fit;
        });
        return command;
    }

    private static MachineHistory Gather(RunStore store, string machine, bool simulated, TextWriter errors)
    {
        var listed = store.List();
        var own = new List<RunRecord>();
        foreach (var run in listed.Where(run => run.State == RunState.Damaged && run.MachineName.Length == 0))
        {
            errors.WriteLine($"Run {run.RunId} is damaged and left out; of which machine it is can't be told.");
        }

        foreach (var run in listed.Where(run => run.MachineName == machine))
        {
            var record = store.ReadSoundPart(run.RunId);
            if (record.DamagedFrom is not null)
            {
                errors.WriteLine($"Run {run.RunId} is damaged and left out.");
            }
            else if (record.IsSimulated == simulated)
            {
                own.Add(record);
            }
        }

        var known = string.Join(", ", listed.Select(run => run.MachineName).Where(name => name.Length > 0).Distinct().Order(StringComparer.Ordinal));
        return own.Count > 0
            ? MachineHistory.Of(machine, own)
            : throw new UsageException($"There is no {(simulated ? "simulated " : string.Empty)}run of {machine} in {store.Path}. Machines in it: {(known.Length > 0 ? known : "none")}. Simulated runs are taken with --simulated.");
    }

    private static void WriteJson(TextWriter output, MachineHistory history) => JsonOutput.Write(output, new
    {
        history.Machine,
        history.Runs,
        Quantities = history.Quantities.Select(quantity => new
        {
            quantity.Key,
            Values = quantity.Points.Select(point => new { Run = point.RunId, point.At, point.Value }),
            Change = quantity.Change.Kind is HistoryKind.Step or HistoryKind.Drift
                ? new
                {
                    Kind = quantity.Change.Kind == HistoryKind.Step ? "step" : "drift",
                    From = quantity.From?.RunId,
                    quantity.Change.Size,
                    quantity.Change.Lower,
                    quantity.Change.Upper,
                    Confidence = 1 - quantity.Change.PValue,
                }
                : null,
        }),
    });
}
