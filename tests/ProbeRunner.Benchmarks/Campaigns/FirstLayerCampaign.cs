using System.Globalization;
using ProbeRunner.Campaigns;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>
/// The first-layer check's correction beside the one that the simulator's truth wants over the printable area as it was while the patches
/// were laid. With a map taken cold and handed over as it is, and with one corrected on the hot bed.
/// </summary>
internal static class FirstLayerCampaign
{
    private const double PromisedMm = 0.01;
    private static readonly string[] Scenarios = ["good", "warped", "leaning-gantry", "heron-good"];

    private static readonly Dictionary<string, RunScript> Scripts = new()
    {
        ["cold map"] = Script("do = \"step-down\"\ncold = true", "do = \"mesh\"\nany_conditions = true"),
        ["hot hand-over"] = Script("do = \"step-down\"", "do = \"mesh\"\nhot_grid = true\nhot_soak_minutes = 4"),
    };

    /// <summary>Runs so many seeds of each.</summary>
    internal static void Run(TextWriter output, int seeds)
    {
        output.WriteLine("| scenario | mesh | seeds | concluded | within 0.010 mm | error, median | 95 % | worst | interval holds the truth | half of it, median | said that more than 0.010 mm stays open | patches, median | minutes, median |");
        output.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |");
        foreach (string scenario in Scenarios)
        {
            foreach ((string name, RunScript script) in Scripts)
            {
                Trial[] all = [.. Enumerable.Range(1, seeds).Select(seed => Of(ScenarioFile.Load(scenario) with { Seed = (ulong)seed }, script))];
                Trial[] known = [.. all.Where(trial => double.IsFinite(trial.ErrorMm))];
                double[] errors = [.. known.Select(trial => Math.Abs(trial.ErrorMm)).Order()];
                output.WriteLine(string.Create(
                    CultureInfo.InvariantCulture,
                    $"| {scenario} | {name} | {seeds} | {known.Length} | {(double)errors.Count(error => error <= PromisedMm) / known.Length:0.000} | {At(errors, 0.5):0.0000} | {At(errors, 0.95):0.0000} | {At(errors, 1):0.0000} | {(double)known.Count(trial => trial.Holds) / known.Length:0.000} | {At([.. known.Select(trial => trial.HalfMm).Order()], 0.5):0.0000} | {known.Count(trial => trial.SaidOpen)} | {At([.. known.Select(trial => (double)trial.Patches).Order()], 0.5):0} | {At([.. known.Select(trial => trial.Minutes).Order()], 0.5):0} |"));
                foreach (IGrouping<string, Trial> why in all.Where(trial => !double.IsFinite(trial.ErrorMm)).GroupBy(trial => trial.Why))
                {
                    output.WriteLine($"not concluded, {why.Count()}: {why.Key}");
                }
            }
        }
    }

    private static Trial Of(Scenario scenario, RunScript script) => VirtualTime.Run(async time =>
    {
        await using CampaignMachine machine = await CampaignMachine.StartAsync(time, scenario);
        Truth truth = machine.Host.Truth;
        var wanted = new List<double>();
        var person = new SensingPerson(time, machine.Host);
        DateTimeOffset? began = null;
        person.Before = prompt =>
        {
            began ??= prompt.Id == PromptIds.FirstLayerReady ? time.GetUtcNow() : null;
            if (prompt.Id == PromptIds.FirstLayerPatch)
            {
                wanted.Add(TrueGap.WantedMm(truth, machine.Printer.Profile, scenario.Travel));
            }
        };
        var journal = new PlainJournal(scenario.Seed);
        RunOutcome outcome = await new RunEngine(machine.Printer, person, journal, script, time, new RunOptions("campaign", Simulated: true)).RunAsync();
        return journal.Conclusion<FirstLayerConclusion>() is { } layer && wanted.Count > 0
            ? new Trial(layer.CorrectionMm - wanted.Average(), wanted.Average() >= layer.LowerMm && wanted.Average() <= layer.UpperMm, (layer.UpperMm - layer.LowerMm) / 2, layer.Verdict.Reason.Contains("stays open", StringComparison.Ordinal), layer.Patches.Length, (time.GetUtcNow() - began!.Value).TotalMinutes, string.Empty)
            : new Trial(double.NaN, false, 0, false, 0, 0, outcome.Verdict.Reason);
    });

    private static RunScript Script(string stepDown, string mesh) => MachineBench.Steps(
        "do = \"preflight\"\nquestions = false", "first-lift", "home-xy", "self-check", "first-home-z", "do = \"series\"\nmost_readings = 30", stepDown, "do = \"lean\"\npasses = 3", "grid", mesh, "store", "verify", "first-layer");

    private static double At(double[] ordered, double share) => ordered.Length == 0 ? double.NaN : ordered[(int)((ordered.Length - 1) * share)];

    private sealed record Trial(double ErrorMm, bool Holds, double HalfMm, bool SaidOpen, int Patches, double Minutes, string Why);
}
