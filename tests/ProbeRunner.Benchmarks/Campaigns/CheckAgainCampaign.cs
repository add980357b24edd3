using ProbeRunner.Campaigns;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Steps.CheckAgain;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>Beds checked again after a screw was turned by known amounts, none included: what was concluded, and whether the corner was named rightly.</summary>
internal static class CheckAgainCampaign
{
    private const string Corner = "back right";

    /// <summary>Runs it with so many seeds for each turn on two beds.</summary>
    public static void Run(TextWriter output, int seeds)
    {
        foreach (string scenario in new[] { "good", "warped" })
        {
            foreach (double turns in new[] { 0, 0.05, 0.1, 0.2, 0.3 })
            {
                CheckAgainConclusion[] found = [.. Enumerable.Range(1, seeds).Select(seed => Check(ScenarioFile.Load(scenario) with { Seed = (ulong)(7000 + seed) }, turns))];
                int Count(VerdictWord word) => found.Count(check => check.Verdict.State == word);
                int named = found.Count(check => check.Findings.Any(finding => finding is { Id: "check-again.corner-moved", Where: $"{Corner} corner" }));
                output.WriteLine(FormattableString.Invariant(
                    $"{scenario,-8} screw turned by {turns:0.00} (0.7 mm a turn), {seeds} seeds: unchanged {Count(VerdictWord.Fit)}, open {Count(VerdictWord.Undecided)}, changed {Count(VerdictWord.NotFit)}; corner named {named}"));
            }
        }
    }

    private static CheckAgainConclusion Check(Scenario scenario, double turns) => VirtualTime.Run(async time =>
    {
        await using CampaignMachine machine = await CampaignMachine.StartAsync(time, scenario);
        CaptureConclusion capture = await MachineBench.RunOnAsync<CaptureConclusion>(
            machine, time, MachineBench.Steps("first-lift", "home", "do = \"grid\"\ncolumns = 7\nrows = 7\ntouches = 1"));
        await machine.Host.AskAsync(FormattableString.Invariant($"turn screw {Corner} {turns}"));
        var earlier = new EarlierCapture("then", EarlierCapture.Taken(capture.Readings), [], null, null, null);
        return await MachineBench.RunOnAsync<CheckAgainConclusion>(machine, time, RunScript.ForStep("check-again", earlier.Parameters()));
    });
}
