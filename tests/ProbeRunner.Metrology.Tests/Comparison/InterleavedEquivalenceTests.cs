using ProbeRunner.Metrology.Comparison;
using ProbeRunner.Metrology.Results;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Comparison;

public sealed class InterleavedEquivalenceTests
{
    // R dataset sleep (Student 1908), its two drugs as reference and candidate.
    private static readonly double[] First = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
    private static readonly double[] Second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];

    // Interval of t.test(paired = TRUE, conf.level = 0.90); p of pt((1.58 - 3) / se, 9); ratio of the residual scatters of lm() by qf(0.05, 8, 18): all [C] R 4.2.2.
    [Fact]
    public void Pairs_of_Students_sleep_data_agree_with_R_4_2_2()
    {
        InterleavedEquivalence found = InterleavedEquivalence.Of(First, Second, First, new EquivalenceLimits(3, 2, 0.001)).Value;

        Near(1.58, found.MeanDifference, 1e-12);
        Near(0.866994732971, found.DifferenceLower, 1e-10);
        Near(2.293005267029, found.DifferenceUpper, 1e-10);
        Near(2.65557029266e-03, found.PValue, 1e-8);
        Near(1.72984497466, found.CandidateSigma, 1e-11);
        Assert.True(found.MeanIsEquivalent);
        Assert.False(InterleavedEquivalence.Of(First, Second, First, new EquivalenceLimits(2, 2, 0.001)).Value.MeanIsEquivalent);
    }

    // The reference's second touch is the first plus 0.1, 0.2, 0 in turn, so that the reference has a scatter of its own: lm(), qf(0.05, 8, 18), [C] R 4.2.2.
    [Fact]
    public void The_limit_of_the_ratio_agrees_with_R_4_2_2()
    {
        double[] after = [.. First.Select((reading, round) => reading + (0.1 * ((round + 1) % 3)))];

        InterleavedEquivalence found = InterleavedEquivalence.Of(First, Second, after, new EquivalenceLimits(3, 2, 0.001)).Value;

        Near(1.53, found.MeanDifference, 1e-12);
        Near(1.56603704087, found.ReferenceSigma, 1e-10);
        Near(1.96771371228, found.RatioUpper, 1e-9);
        Near(0.00235965533313, found.PValue, 1e-8);
    }

    [Fact]
    public void A_steady_drift_changes_nothing()
    {
        double[] Drifting(double[] readings, double from) => [.. readings.Select((reading, round) => reading + from + (0.3 * round))];
        var limits = new EquivalenceLimits(3, 2, 0.001);

        InterleavedEquivalence still = InterleavedEquivalence.Of(First, Second, First, limits).Value;
        InterleavedEquivalence drifting = InterleavedEquivalence.Of(Drifting(First, 0), Drifting(Second, 0.15), Drifting(First, 0.3), limits).Value;

        Near(still.MeanDifference, drifting.MeanDifference, 1e-10);
        Near(still.CandidateSigma, drifting.CandidateSigma, 1e-10);
    }

    [Fact]
    public void A_candidate_that_never_scatters_passes_and_one_far_off_is_hopeless()
    {
        double[] flat = [1, 1, 1, 1, 1, 1], off = [2, 2, 2, 2, 2, 2];

        Assert.True(InterleavedEquivalence.Of(flat, flat, flat, new EquivalenceLimits(0.01, 1.5, 0.001)).Value.IsEquivalent);
        InterleavedEquivalence far = InterleavedEquivalence.Of(flat, off, flat, new EquivalenceLimits(0.01, 1.5, 0.001)).Value;
        Assert.True(far.IsHopeless && !far.IsEquivalent);
        Assert.Equal(RefusalKind.TooFew, InterleavedEquivalence.Of(flat[..3], flat[..3], flat[..3], new EquivalenceLimits(0.01, 1.5, 0.001)).Refusal!.Kind);
    }

    [Fact]
    public void A_candidate_at_the_limit_of_either_is_taken_for_equivalent_in_at_most_a_twentieth_of_the_trials()
    {
        const int Trials = 2000, Rounds = 24;
        var limits = new EquivalenceLimits(0.003, 1.5, 0.0005);
        var chance = new Random(20261125);
        int wrongScatter = 0, wrongMean = 0;
        for (int trial = 0; trial < Trials; trial++)
        {
            double[] Draw(double mean, double sigma) => [.. Enumerable.Range(0, Rounds).Select(round => mean + (0.0002 * round) + (sigma * Normal(chance)))];
            wrongScatter += InterleavedEquivalence.Of(Draw(0, 0.003), Draw(0, 0.0045), Draw(0, 0.003), limits).Value.IsEquivalent ? 1 : 0;
            wrongMean += InterleavedEquivalence.Of(Draw(0, 0.003), Draw(0.003, 0.003), Draw(0, 0.003), limits).Value.IsEquivalent ? 1 : 0;
        }

        // 5 % of 2,000 with three standard errors of the binomial: 0.05 + 3 sqrt(0.05 x 0.95 / 2000) = 0.065.
        Assert.True(wrongScatter <= 0.065 * Trials, $"{wrongScatter} of {Trials} scatter");
        Assert.True(wrongMean <= 0.065 * Trials, $"{wrongMean} of {Trials} means");
    }

    private static double Normal(Random chance) => Math.Sqrt(-2 * Math.Log(1 - chance.NextDouble())) * Math.Cos(2 * Math.PI * chance.NextDouble());
}
