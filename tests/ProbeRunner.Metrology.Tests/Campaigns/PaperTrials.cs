using ProbeRunner.Metrology.Thresholds;

namespace ProbeRunner.Campaigns;

/// <summary>A simulated person with paper.</summary>
/// <param name="SigmaMm">Standard deviation of the height at which drag is noticed.</param>
/// <param name="BandMm">From first drag down to pinched.</param>
/// <param name="Lapse">Share of answers that are one of the three at random.</param>
internal sealed record PaperPerson(double SigmaMm, double BandMm, double Lapse = 0.03)
{
    internal PaperAnswer Feel(Random chance, double heightMm, double thresholdMm)
    {
        if (chance.NextDouble() < Lapse)
        {
            return (PaperAnswer)chance.Next(3);
        }

        double felt = heightMm + (SigmaMm * Draws.Normal(chance));
        return felt > thresholdMm ? PaperAnswer.Free : felt > thresholdMm - BandMm ? PaperAnswer.Drags : PaperAnswer.Pinched;
    }
}

/// <summary>What came of many simulated paper tests.</summary>
/// <param name="MeanPrompts">Mean number of prompts until done.</param>
/// <param name="Within">Share of estimates within the half-width asked for.</param>
/// <param name="Covered">Share of intervals that hold the truth.</param>
/// <param name="RootMeanSquareErrorMm">Of the estimates.</param>
/// <param name="MeanErrorMm">Of the estimates: their bias.</param>
/// <param name="FixedPrompts">Smallest fixed number of prompts, never stopping early, after which 95 % of estimates are within the half-width; 0 unless followed on.</param>
/// <param name="WithinAtEnd">Share of estimates within the half-width after the most prompts, never stopping early; 0 unless followed on.</param>
internal readonly record struct PaperTrials(
    double MeanPrompts, double Within, double Covered, double RootMeanSquareErrorMm, double MeanErrorMm, int FixedPrompts, double WithinAtEnd)
{
    private const double HalfWidthMm = 0.01;
    private const double StepMm = 0.0025;

    /// <summary>Runs tests that know no more beforehand than a window of 0.2 mm, the truth anywhere in its middle half.</summary>
    /// <param name="person">Who answers.</param>
    /// <param name="tests">How many tests.</param>
    /// <param name="seed">Of chance.</param>
    /// <param name="followOn">Whether the questions go on to the most prompts after the test calls itself done.</param>
    /// <param name="mostPrompts">Where the questions end in any case.</param>
    internal static PaperTrials Of(PaperPerson person, int tests, int seed, bool followOn = false, int mostPrompts = 120)
    {
        var chance = new Random(seed);
        var far = new int[mostPrompts + 1];
        double prompts = 0, within = 0, covered = 0, squares = 0, errors = 0;
        for (int i = 0; i < tests; i++)
        {
            double threshold = 0.05 + (0.1 * chance.NextDouble());
            PaperThresholdTest test = PaperThresholdTest.Start(0, 0.2);
            PaperThresholdTest? done = null;
            while (test.Answers < mostPrompts && (followOn || done is null))
            {
                double height = test.NextHeight(StepMm);
                test = test.With(height, person.Feel(chance, height, threshold));
                far[test.Answers] += Math.Abs(test.Estimate.ThresholdMm - threshold) > HalfWidthMm ? 1 : 0;
                done ??= test.IsDone(HalfWidthMm) ? test : null;
            }

            test = done ?? test;
            ThresholdEstimate estimate = test.Estimate;
            double error = estimate.ThresholdMm - threshold;
            prompts += test.Answers;
            within += Math.Abs(error) <= HalfWidthMm ? 1 : 0;
            covered += estimate.LowerMm <= threshold && threshold <= estimate.UpperMm ? 1 : 0;
            squares += error * error;
            errors += error;
        }

        return new PaperTrials(
            prompts / tests,
            within / tests,
            covered / tests,
            Math.Sqrt(squares / tests),
            errors / tests,
            followOn ? 1 + Array.FindLastIndex(far, count => count > 0.05 * tests) : 0,
            followOn ? 1 - (far[mostPrompts] / (double)tests) : 0);
    }
}
