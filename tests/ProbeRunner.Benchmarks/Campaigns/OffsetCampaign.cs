using System.Globalization;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>The probe offset in X and Y by mark and find, on simulated machines whose controller has it wrong by some millimetres.</summary>
internal static class OffsetCampaign
{
    private const double WrongByX = 6;
    private const double WrongByY = -4;
    private const double WantedMm = 0.5;

    private sealed record Result(double ErrorMm, bool IsFit, int Prompts, double DeepestMm, int IllegalMoves);

    /// <summary>Runs so many seeds of three machines.</summary>
    public static void Run(TextWriter output, int seeds)
    {
        output.WriteLine("| scenario | seeds | within 0.5 mm | error mm, median | error mm, 95 % | error mm, worst | fit | prompts, median | deepest in the bed, mm | illegal moves |");
        output.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |");
        foreach (string scenario in new[] { "good", "tilted", "heron-good" })
        {
            Scenario machine = ScenarioFile.Load(scenario);
            Result[] results = [.. Enumerable.Range(1, seeds).Select(seed => Run(machine with
            {
                Seed = (ulong)seed,
                Controller = machine.Controller with { StoredOffsetX = machine.Controller.StoredOffsetX + WrongByX, StoredOffsetY = machine.Controller.StoredOffsetY + WrongByY },
            }))];
            double[] errors = [.. results.Select(result => result.ErrorMm).Order()];
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"| {scenario} | {seeds} | {errors.Count(error => error <= WantedMm)} | {errors[seeds / 2]:0.00} | {errors[(int)(0.95 * (seeds - 1))]:0.00} | {errors[^1]:0.00} | {results.Count(result => result.IsFit)} | {results.Select(result => result.Prompts).Order().ElementAt(seeds / 2)} | {results.Max(result => result.DeepestMm):0.000} | {results.Sum(result => result.IllegalMoves)} |"));
        }
    }

    private static Result Run(Scenario scenario)
    {
        int prompts = 0;
        return MachineBench.Run<XyOffsetConclusion, Result>(
            scenario,
            MachineBench.Steps("first-lift", "home-xy", "self-check", "first-home-z", "probe-offset"),
            (offset, host) => new Result(
                Math.Max(Math.Abs(offset.After.X - scenario.Probe.OffsetX), Math.Abs(offset.After.Y - scenario.Probe.OffsetY)),
                offset.Verdict.State == VerdictWord.Fit,
                prompts,
                host.Truth.Scratches.Select(scratch => scratch.DepthMm).DefaultIfEmpty().Max(),
                host.Truth.IllegalMoves.Count),
            AnswerAsync);

        async Task<string?> AnswerAsync(SimulatedPrinterHost host, string id)
        {
            prompts += id.StartsWith("probe-offset.", StringComparison.Ordinal) ? 1 : 0;
            switch (id)
            {
                case PromptIds.SelfCheckPush:
                    await host.AskAsync("finger next-descent");
                    return null;
                case PromptIds.SelfCheckHold:
                    await host.AskAsync("finger on");
                    return null;
                case PromptIds.SelfCheckLetGo:
                    await host.AskAsync("finger off");
                    return null;
                case PromptIds.ProbeOffsetMethod:
                    return "mark";
                case PromptIds.ProbeOffsetNozzleAtMark:
                    return await host.AskAsync("look gap") == "touching" ? "touching" : "lower";
                case PromptIds.ProbeOffsetDraw:
                    await host.AskAsync("mark here");
                    return null;
                case PromptIds.ProbeOffsetProbeAtMark:
                    return await host.AskAsync("look mark");
                default:
                    return null;
            }
        }
    }
}
