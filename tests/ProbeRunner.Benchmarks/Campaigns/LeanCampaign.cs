using System.Globalization;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>
/// The lean along the gantry on simulated machines whose slope is known: how often its interval holds it, how wide it is, what was
/// concluded, and how often a person is asked.
/// </summary>
internal static class LeanCampaign
{
    private sealed record Result(bool Covers, double HalfWidthMm, double ErrorMm, VerdictWord Verdict, int Answers, int Prompts, double DeepestMm, int IllegalMoves);

    /// <summary>Runs so many seeds of a leaning and of two straight machines.</summary>
    public static void Run(TextWriter output, int seeds)
    {
        output.WriteLine("| scenario | axes seen | 95 % interval holds the truth | half width at the side, mm, median | error at the side, mm, rms | fit / not fit / undecided | paper answers a run, median | prompts a run, median | deepest in the bed, mm; deeper than 0.10 | illegal moves |");
        output.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |");
        foreach (string scenario in new[] { "leaning-gantry", "good", "heron-good" })
        {
            Scenario machine = ScenarioFile.Load(scenario);
            Result[] results = [.. Enumerable.Range(1, seeds).SelectMany(seed => Run(machine with { Seed = (ulong)seed }))];
            int Count(VerdictWord word) => results.Count(result => result.Verdict == word);
            double Median(Func<Result, double> of) => results.Select(of).Order().ElementAt(results.Length / 2);
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"| {scenario} | {results.Length} | {results.Average(result => result.Covers ? 1.0 : 0):0.000} | {Median(result => result.HalfWidthMm):0.0000} | {Math.Sqrt(results.Average(result => result.ErrorMm * result.ErrorMm)):0.0000} | {Count(VerdictWord.Fit)} / {Count(VerdictWord.NotFit)} / {Count(VerdictWord.Undecided)} | {Median(result => result.Answers):0} | {Median(result => result.Prompts):0} | {results.Max(result => result.DeepestMm):0.000}; {results.Count(result => result.DeepestMm > 0.10)} | {results.Sum(result => result.IllegalMoves)} |"));
        }
    }

    private static Result[] Run(Scenario scenario)
    {
        var asked = new List<string>();
        return MachineBench.Run<LeanConclusion, Result[]>(
            scenario, MachineBench.Steps("first-lift", "home-xy", "self-check", "first-home-z", "lean"), (lean, host) => [.. lean.Axes.Select(axis => Judge(axis, lean, host))], AnswerAsync);

        async Task<string?> AnswerAsync(SimulatedPrinterHost host, string id)
        {
            asked.Add(id);
            switch (id)
            {
                case PromptIds.LeanPaper:
                    return await host.AskAsync("feel");
                case PromptIds.LeanPaperIn:
                    await host.AskAsync("paper in");
                    return null;
                default:
                    await host.AskAsync("paper out");
                    return null;
            }
        }

        Result Judge(LeanAlongAxis axis, LeanConclusion lean, SimulatedPrinterHost host)
        {
            double truth = axis.Axis == "X" ? scenario.Probe.LeanX : scenario.Probe.LeanY;
            return new Result(
                truth >= axis.LowerMmPerMm && truth <= axis.UpperMmPerMm,
                (axis.UpperMm - axis.LowerMm) / 2,
                (axis.SlopeMmPerMm - truth) * axis.LengthMm / 2,
                lean.Verdict.State,
                asked.Count(id => id == PromptIds.LeanPaper),
                asked.Count(id => id.StartsWith("lean.", StringComparison.Ordinal)),
                host.Truth.Scratches.Select(scratch => scratch.DepthMm).DefaultIfEmpty(0).Max(),
                host.Truth.IllegalMoves.Count);
        }
    }
}
