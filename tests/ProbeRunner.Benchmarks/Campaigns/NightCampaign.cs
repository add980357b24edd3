using System.Diagnostics;
using ProbeRunner.Campaigns;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>1,600 places x 3 touches over an eight-hour drifting night with two power cuts, in every scenario: the map against the truth.</summary>
internal static class NightCampaign
{
    private static readonly string[] Scenarios = ["good", "tilted", "warped", "leaning-gantry", "far-corner", "heron-good", "loose-probe"];

    internal static void Run(TextWriter output)
    {
        output.WriteLine("scenario         touches  hours  epochs  map error from home, rms  95 % intervals hold  verdict");
        foreach (string name in Scenarios)
        {
            var watch = Stopwatch.StartNew();
            NightTrial night = NightTrial.Of(ScenarioFile.Load(name), side: 40, touches: 3, cuts: [0.25, 0.7]);
            output.WriteLine(FormattableString.Invariant(
                $"{name,-15} {night.Capture.Details!.Touches,8} {night.Capture.Details.Duration.TotalHours,6:0.0} {night.Capture.Details.Datums.Length,7} {night.RmsErrorMm,24:0.0000} {night.Held,20:P1}  {night.Capture.Verdict.State}: {night.Capture.Verdict.Reason} ({watch.Elapsed.TotalSeconds:0} s)"));
        }
    }
}
