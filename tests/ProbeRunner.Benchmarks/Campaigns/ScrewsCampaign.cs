using System.Diagnostics;
using ProbeRunner.Campaigns;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>
/// A bed brought level with its screws by a person whose turns are a little off: rounds of turning, and how level the plate truly stands.
/// </summary>
internal static class ScrewsCampaign
{
    private const double PromisedMm = 0.02;
    private const int MostRounds = 3;
    private const int NotRounds = 2; // the bed as found, and the trial turn

    private sealed record Result(double WorstMm, int Rounds, int Turns, VerdictWord Verdict);

    /// <summary>Runs so many seeds of each crooked machine.</summary>
    public static void Run(TextWriter output, int seeds)
    {
        var watch = Stopwatch.StartNew();
        output.WriteLine("| scenario | seeds | truly within 0.02 mm in at most three rounds | rounds 0 / 1 / 2 / 3 / more | turns asked for, median | truly off level, mm, median | 95 % | worst | said fit, truly not |");
        output.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
        foreach (string scenario in new[] { "tilted", "heron-good" })
        {
            Scenario machine = ScenarioFile.Load(scenario);
            Result[] all = [.. Enumerable.Range(1, seeds).Select(seed => Run(machine with { Seed = (ulong)seed }, turnFirst: scenario != "tilted"))];
            double[] worst = [.. all.Select(result => result.WorstMm).Order()];
            string rounds = string.Join(" / ", Enumerable.Range(0, MostRounds + 1).Select(count => all.Count(result => result.Rounds == count)).Append(all.Count(result => result.Rounds > MostRounds)));
            output.WriteLine(FormattableString.Invariant(
                $"| {scenario} | {seeds} | {all.Count(result => result.WorstMm <= PromisedMm && result.Rounds <= MostRounds)} | {rounds} | {all.Select(result => result.Turns).Order().ElementAt(seeds / 2)} | {worst[seeds / 2]:0.0000} | {worst[Math.Min(seeds - 1, seeds * 95 / 100)]:0.0000} | {worst[^1]:0.0000} | {all.Count(result => result.Verdict == VerdictWord.Fit && result.WorstMm > PromisedMm)} |"));
        }

        output.WriteLine(FormattableString.Invariant($"{watch.Elapsed.TotalSeconds:0} s"));
    }

    private static Result Run(Scenario scenario, bool turnFirst)
    {
        (int turns, bool turned) = (0, !turnFirst);
        return MachineBench.Run<ScrewsConclusion, Result>(
            scenario,
            MachineBench.Steps("first-lift", "home-xy", "self-check", "first-home-z", "screws"),
            (screws, host) => new Result(
                TrueLevel.WorstMm(CampaignMachine.Profile(scenario.MachineName).Screws, host.Truth), Math.Max(0, screws.Rounds.Length - NotRounds), turns, screws.Verdict.State),
            AnswerAsync);

        async Task<string?> AnswerAsync(SimulatedPrinterHost host, string id)
        {
            turns += id == PromptIds.ScrewsTurn ? 1 : 0;
            if (!turned)
            {
                turned = true;
                await host.AskAsync("turn screw back 1");
            }

            return null;
        }
    }
}
