using System.Diagnostics;
using ProbeRunner.Campaigns;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>
/// Whatever a person answers at the paper, with whatever wrong offset stored and wrong distance entered: the nozzle is sent neither below the
/// floor nor deeper than 0.10 mm below first contact, by the commands and by the simulator's truth.
/// </summary>
internal static class OperatorsCampaign
{
    /// <summary>Runs so many operators, one after another, and prints every promise broken.</summary>
    internal static void Run(TextWriter output, int operators)
    {
        var watch = Stopwatch.StartNew();
        var (broken, tested, prompts, lowest) = (0, 0, 0L, double.PositiveInfinity);
        var lowestHonest = double.PositiveInfinity;
        for (int seed = 0; seed < operators; seed++)
        {
            MischiefCase one = MischiefCase.Of(seed);
            MischiefTrial trial = MischiefTrial.Of(one);
            prompts += trial.Prompts;
            tested += trial.IsPutToTest ? 1 : 0;
            lowest = Math.Min(lowest, trial.LowestGapMm);
            lowestHonest = one.Person is Mischief.Meddles ? Math.Min(lowestHonest, trial.LowestGapMm) : lowestHonest;
            if (!trial.Broken.IsEmpty)
            {
                broken++;
                output.WriteLine($"{one.Seed} {one.Person}: {string.Join("; ", trial.Broken)}");
            }
        }

        output.WriteLine(FormattableString.Invariant(
            $"{operators} operators, {tested} of them let near the bed, {broken} with a promise broken, {prompts} answers; lowest gap {lowest:0.000} mm (honest but meddling {lowestHonest:0.000}); {watch.Elapsed.TotalSeconds:0} s"));
    }
}
