using System.CommandLine;
using ProbeRunner.Console.Analyse.Results;
using ProbeRunner.Metrology.CaptureComparison;
using ProbeRunner.Records.Comparisons;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Store;
using ProbeRunner.Records.Summaries;

namespace ProbeRunner.Console.Commands;

/// <summary><c>compare</c>: two runs of one machine side by side.</summary>
internal static class CompareCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Create(ProgramContext context)
    {
        var one = new Argument<string>("A") { Description = "A run's id. See the runs command." };
        var other = new Argument<string>("B") { Description = "Another run's id; which began first is the earlier one." };
        var offset = new Option<double>("--offset-tolerance") { Description = "Change of the Z offset that doesn't matter, mm; 0.02.", HelpName = "MM", DefaultValueFactory = _ => new ComparisonTolerances().OffsetMm };
        var bed = new Option<double>("--bed-tolerance") { Description = "Change of the bed's shape that doesn't matter, mm; 0.05.", HelpName = "MM", DefaultValueFactory = _ => new ComparisonTolerances().BedMm };
        var json = new Option<bool>("--json") { Description = "Print one JSON object." };
        var store = SharedOptions.Store();
        var command = new Command("compare", "Compare two runs of one machine: Z offset, probe and bed, with intervals, and whether it matters. Exit code 1 when something does, or may.")
        {
            one, other, offset, bed, json, store,
        };
        command.SetAction(parsed =>
        {
            var tolerances = new ComparisonTolerances(Positive(parsed.GetValue(offset), offset.Name), Positive(parsed.GetValue(bed), bed.Name));
            var runs = RunStore.OpenExisting(parsed.GetValue(store) ?? StoreLocation.Default(context.Environment));
            var comparison = Compare(runs.Read(parsed.GetValue(one)!), runs.Read(parsed.GetValue(other)!), tolerances);
            if (parsed.GetValue(json))
            {
                WriteJson(context.Output, comparison);
            }
            else
            {
                foreach (var line in ComparisonSummary.Lines(comparison))
                {
                    context.Output.WriteLine(line);
                }
            }

            return comparison.Matters == Mattering.No ? ExitCodes.Fit : ExitCodes.NotFit;
        });
        return command;
    }

    private static RunComparison Compare(RunRecord one, RunRecord other, ComparisonTolerances tolerances)
    {
        if (one.Header.MachineName != other.Header.MachineName)
        {
            throw new UsageException($"Run {one.Header.RunId} is of {one.Header.MachineName} and run {other.Header.RunId} of {other.Header.MachineName}; only runs of one machine can be compared.");
        }

        var comparison = RunComparison.Of(one, other, tolerances);
        return comparison.HasAnything
            ? comparison
            : throw new UsageException($"The two runs have nothing in common to compare. {string.Join(" ", comparison.Missing)}");
    }

    private static double Positive(double value, string option) =>
        value > 0 && double.IsFinite(value) ? value : throw new UsageException($"{option} takes a number above 0, in mm.");

    private static void WriteJson(TextWriter output, RunComparison comparison) => JsonOutput.Write(output, new
    {
        comparison.Earlier,
        comparison.Later,
        Offset = Number(comparison.Offset),
        Probe = Number(comparison.Probe),
        Bed = comparison.Bed is not { } bed ? null : new
        {
            bed.Difference.ShiftMm,
            Terms = bed.Terms.Select(Change),
            Corners = bed.Corners.Select(Change),
            Local = new { bed.Difference.Largest.X, bed.Difference.Largest.Y, bed.Local.ChangeMm, bed.Local.LowerMm, bed.Local.UpperMm, bed.Difference.Largest.PValue, Matters = Word(bed.Local.Matters) },
            comparison.ConditionsThen,
            comparison.ConditionsNow,
        },
        comparison.Missing,
        Matters = Word(comparison.Matters),
    });

    private static object? Number(ComparedNumber? number) =>
        number is null ? null : new { number.Then, number.Now, number.Change, number.Lower, number.Upper, Matters = Word(number.Matters) };

    private static object Change(JudgedChange change) => new { change.Name, change.ChangeMm, change.LowerMm, change.UpperMm, Matters = Word(change.Matters) };

    private static string Word(Mattering matters) => matters switch
    {
        Mattering.No => "no",
        Mattering.Open => "open",
        _ => "yes",
    };
}
