using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>Warm-up watches on beds of known slowness: how often settled was said too early, how the wait compares with the truth.</summary>
internal static class WarmUpCampaign
{
    private const double BedCelsius = 60;

    /// <summary>Runs it with so many seeds at each of three time constants.</summary>
    public static void Run(TextWriter output, int seeds)
    {
        Scenario slow = ScenarioFile.Load("slow-warm-up");
        double end = slow.Heat.BedMmPerKelvin * (BedCelsius - slow.Heat.AmbientCelsius);
        foreach (double lag in new[] { 150.0, 300.0, 500.0 })
        {
            Scenario scenario = slow with { Heat = slow.Heat with { BedLagSeconds = lag } };
            WarmUpConclusion[] found = [.. Enumerable.Range(1, seeds).Select(seed => MachineBench.Run<WarmUpConclusion, WarmUpConclusion>(
                scenario with { Seed = (ulong)(6000 + seed) }, MachineBench.Steps("first-lift", "home", "do = \"warm-up\"\nmost_minutes = 60"), (warm, _) => warm))];
            WarmUpConclusion[] settled = [.. found.Where(warm => warm.Settled)];

            // What a lag leaves of a steady ramp at its end: rate x lag x (1 - exp(-time / lag)).
            double ramp = (BedCelsius - scenario.Heat.AmbientCelsius) / scenario.Heat.BedKelvinPerSecond;
            double left = scenario.Heat.BedMmPerKelvin * scenario.Heat.BedKelvinPerSecond * lag * (1 - Math.Exp(-ramp / lag));
            int early = settled.Count(warm => left * Math.Exp(-(warm.Points[^1].Seconds - warm.HotAtSeconds) / lag) > warm.ToleranceMm);
            int covers = settled.Count(warm => warm.Curve is { } curve && curve.TimeConstantLowerSeconds <= lag && lag <= curve.TimeConstantUpperSeconds);
            double truth = lag * Math.Log(left / found[0].ToleranceMm) / 60;
            output.WriteLine(FormattableString.Invariant(
                $"lag {lag:0} s, {seeds} seeds: settled {settled.Length}, too early {early}, time constant within its interval {covers}; wait {settled.Average(warm => warm.WaitNextTimeMinutes!.Value):0.0} min, truth {truth:0.0}; movement off by {found.Average(warm => warm.MovedMm - end):+0.0000;-0.0000} mm, rms {Math.Sqrt(found.Average(warm => Math.Pow(warm.MovedMm - end, 2))):0.0000}"));
        }
    }
}
