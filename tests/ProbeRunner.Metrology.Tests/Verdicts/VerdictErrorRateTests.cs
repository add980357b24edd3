using ProbeRunner.Campaigns;
using ProbeRunner.Metrology.Verdicts;

namespace ProbeRunner.Metrology.Tests.Verdicts;

/// <summary>Error rates by simulation, seeded; the bounds leave three standard deviations of a share of 5 % (or 10 %) among the series drawn.</summary>
public sealed class VerdictErrorRateTests
{
    private const int Series = 2000;

    /// <summary>Combs take longer to judge.</summary>
    private const int SeriesOnComb = 600;
    private const double Wrong = 0.05;
    private const double Undecided = 0.10;

    public static TheoryData<string> Laws => [.. ScatterLaw.All.Select(law => law.Name)];

    [Theory]
    [MemberData(nameof(Laws))]
    public void Whatever_the_tails_at_most_5_percent_of_verdicts_are_wrong_and_10_percent_undecided(string name)
    {
        var test = new SequentialSigmaTest(new SigmaLimits(Cap: 40, Tails: TailAssumption.Any));
        ScatterLaw law = ScatterLaw.All.Single(l => l.Name == name);
        int series = law.CombMm > 0 ? SeriesOnComb : Series;
        VerdictTrials good = VerdictTrials.Of(test, law, 0.005, series, 1);
        VerdictTrials bad = VerdictTrials.Of(test, law, 0.010, series, 2);
        Assert.InRange(good.NotFit, 0, Bound(Wrong, series));
        Assert.InRange(bad.Fit, 0, Bound(Wrong, series));
        Assert.InRange(good.Undecided, 0, Bound(Undecided, series));
        Assert.InRange(bad.Undecided, 0, Bound(Undecided, series));
    }

    // Fixed plan of 14 touches and its error rates: FixedSigmaPlan, checked against R elsewhere.
    [Fact]
    public void Trusting_the_normal_law_a_good_probe_takes_0_69_and_a_bad_one_0_41_of_the_fixed_plan()
    {
        var test = new SequentialSigmaTest(new SigmaLimits(Cap: 25, Tails: TailAssumption.Normal));
        VerdictTrials good = VerdictTrials.Of(test, ScatterLaw.Normal, 0.005, 4 * Series, 3);
        VerdictTrials bad = VerdictTrials.Of(test, ScatterLaw.Normal, 0.010, 4 * Series, 4);
        Assert.InRange(good.NotFit, 0, Bound(Wrong, 4 * Series));
        Assert.InRange(bad.Fit, 0, Bound(Wrong, 4 * Series));
        Assert.InRange(good.MeanTouches / 14, 0.5, 0.70);
        Assert.InRange(bad.MeanTouches / 14, 0.3, 0.42);
    }

    [Fact]
    public void Trusting_the_normal_law_a_comb_of_0_005_is_not_taken_for_scatter()
    {
        var test = new SequentialSigmaTest(new SigmaLimits(Cap: 25, Tails: TailAssumption.Normal));
        Assert.InRange(VerdictTrials.Of(test, ScatterLaw.Quantized, 0.005, SeriesOnComb, 5).NotFit, 0, Bound(Wrong, SeriesOnComb));
        Assert.InRange(VerdictTrials.Of(test, ScatterLaw.Quantized, 0.010, SeriesOnComb, 6).Fit, 0, Bound(Wrong, SeriesOnComb));
    }

    [Theory]
    [InlineData(0.003, 0.010)]
    [InlineData(0.006, 0.010)]
    [InlineData(0.020, 0.040)]
    public void Other_limits_keep_the_error_rates_on_normal_readings(double good, double bad)
    {
        var test = new SequentialSigmaTest(new SigmaLimits(good, bad, Cap: 60, Tails: TailAssumption.Normal));
        Assert.InRange(VerdictTrials.Of(test, ScatterLaw.Normal, good, Series, 7).NotFit, 0, Bound(Wrong));
        Assert.InRange(VerdictTrials.Of(test, ScatterLaw.Normal, bad, Series, 8).Fit, 0, Bound(Wrong));
    }

    [Fact]
    public void More_confidence_makes_fewer_errors()
    {
        var test = new SequentialSigmaTest(new SigmaLimits(Confidence: 0.99, Cap: 60, Tails: TailAssumption.Normal));
        double bound = 0.01 + (3 * Math.Sqrt(0.01 * 0.99 / Series));
        Assert.InRange(VerdictTrials.Of(test, ScatterLaw.Normal, 0.005, Series, 9).NotFit, 0, bound);
        Assert.InRange(VerdictTrials.Of(test, ScatterLaw.Normal, 0.010, Series, 10).Fit, 0, bound);
    }

    private static double Bound(double share, int series = Series) => share + (3 * Math.Sqrt(share * (1 - share) / series));
}
