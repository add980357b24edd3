using ProbeRunner.Metrology.Verdicts;

namespace ProbeRunner.Campaigns;

/// <summary>What came of many simulated series of one probe.</summary>
/// <param name="Fit">Share called fit.</param>
/// <param name="NotFit">Share called not fit.</param>
/// <param name="Undecided">Share undecided at the cap.</param>
/// <param name="MeanTouches">Mean number of touches until the verdict.</param>
internal readonly record struct VerdictTrials(double Fit, double NotFit, double Undecided, double MeanTouches)
{
    /// <summary>Judges series after every touch until the verdict or the cap.</summary>
    internal static VerdictTrials Of(SequentialSigmaTest test, ScatterLaw law, double sigma, int series, int seed)
    {
        var chance = new Random(seed);
        var counts = new int[3];
        long touches = 0;
        for (int i = 0; i < series; i++)
        {
            double place = chance.NextDouble();
            List<double> readings = [law.Read(chance, place, sigma)];
            VerdictState state = VerdictState.Undecided;
            while (state == VerdictState.Undecided && readings.Count < test.Limits.Cap)
            {
                readings.Add(law.Read(chance, place, sigma));
                state = test.Judge(readings).State;
            }

            counts[(int)state]++;
            touches += readings.Count;
        }

        return new VerdictTrials(
            counts[(int)VerdictState.Fit] / (double)series,
            counts[(int)VerdictState.NotFit] / (double)series,
            counts[(int)VerdictState.Undecided] / (double)series,
            touches / (double)series);
    }
}
