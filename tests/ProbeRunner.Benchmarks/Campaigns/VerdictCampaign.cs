using System.Globalization;
using ProbeRunner.Campaigns;
using ProbeRunner.Metrology.Verdicts;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>Touches to verdict and error rates by law of scatter, beside the fixed plan of 14.</summary>
internal static class VerdictCampaign
{
    private const int FixedPlan = 14;

    /// <summary>Runs <paramref name="series"/> simulated series for every law, for a good and for a bad probe, with either assumption about tails.</summary>
    internal static void Run(TextWriter output, int series = 20_000)
    {
        foreach (TailAssumption tails in new[] { TailAssumption.Any, TailAssumption.Normal })
        {
            var test = new SequentialSigmaTest(new SigmaLimits(Cap: tails == TailAssumption.Any ? 40 : 25, Tails: tails));
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"tails: {tails}, cap {test.Limits.Cap}, {series} series each"));
            output.WriteLine("| scatter | good: wrong | undecided | touches | / 14 | bad: wrong | undecided | touches | / 14 |");
            output.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
            string[] rows = new string[ScatterLaw.All.Length];
            Parallel.For(0, rows.Length, i =>
            {
                ScatterLaw law = ScatterLaw.All[i];
                VerdictTrials good = VerdictTrials.Of(test, law, test.Limits.GoodSigma, series, 1000 + i);
                VerdictTrials bad = VerdictTrials.Of(test, law, test.Limits.BadSigma, series, 2000 + i);
                rows[i] = string.Create(
                    CultureInfo.InvariantCulture,
                    $"| {law.Name} | {good.NotFit:0.0000} | {good.Undecided:0.0000} | {good.MeanTouches:0.00} | {good.MeanTouches / FixedPlan:0.000} | {bad.Fit:0.0000} | {bad.Undecided:0.0000} | {bad.MeanTouches:0.00} | {bad.MeanTouches / FixedPlan:0.000} |");
            });
            foreach (string row in rows)
            {
                output.WriteLine(row);
            }
        }
    }
}
