using System.Globalization;
using ProbeRunner.Campaigns;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>Prompts to the paper threshold by the person's own standard deviation and the paper's drag band.</summary>
internal static class PaperCampaign
{
    /// <summary>Runs <paramref name="tests"/> simulated tests for every person.</summary>
    internal static void Run(TextWriter output, int tests = 1000)
    {
        output.WriteLine("| person sd mm | drag band mm | fixed prompts to +-0.01, 95 % | prompts by its own stop | within 0.01 | interval covers | rms error mm | bias mm |");
        output.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- |");
        PaperPerson[] people = [.. from band in new[] { 0.02, 0.03, 0.045, 0.06 } from sigma in new[] { 0.01, 0.02, 0.03 } select new PaperPerson(sigma, band)];
        string[] rows = new string[people.Length];
        Parallel.For(0, rows.Length, i =>
        {
            PaperTrials trials = PaperTrials.Of(people[i], tests, 4000 + i, followOn: true);
            rows[i] = string.Create(
                CultureInfo.InvariantCulture,
                $"| {people[i].SigmaMm:0.000} | {people[i].BandMm:0.000} | {trials.FixedPrompts} | {trials.MeanPrompts:0.0} | {trials.Within:0.000} | {trials.Covered:0.000} | {trials.RootMeanSquareErrorMm:0.0000} | {trials.MeanErrorMm:+0.0000;-0.0000} |");
        });
        foreach (string row in rows)
        {
            output.WriteLine(row);
        }
    }
}
