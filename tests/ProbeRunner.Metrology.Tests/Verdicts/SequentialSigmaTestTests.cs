using CsCheck;
using ProbeRunner.Campaigns;
using ProbeRunner.Metrology.Tests.Series;
using ProbeRunner.Metrology.Verdicts;

namespace ProbeRunner.Metrology.Tests.Verdicts;

public sealed class SequentialSigmaTestTests
{
    private static readonly SequentialSigmaTest Usual = new(new SigmaLimits(Cap: 40, Tails: TailAssumption.Any));

    [Theory]
    [InlineData(new double[0])]
    [InlineData(new[] { 1.0 })]
    [InlineData(new[] { 1.0, double.NaN, 1.0 })]
    [InlineData(new[] { 1e308, -1e308, 1.0 })]
    public void Nothing_is_decided_without_two_usable_readings(double[] readings)
    {
        SeriesVerdict verdict = Usual.Judge(readings);
        Assert.Equal(VerdictState.Undecided, verdict.State);
        Assert.Null(verdict.Sigma);
        Assert.True(verdict.ReadingsStillNeeded > 0);
    }

    [Fact]
    public void Wild_scatter_is_not_fit_soon_and_hardly_any_scatter_is_fit_soon()
    {
        Assert.Equal(VerdictState.NotFit, Usual.Judge([1.00, 1.05, 0.97, 1.10, 0.93, 1.08]).State);
        Assert.Equal(VerdictState.Fit, Usual.Judge([1.001, 1.0, 1.002, 1.001, 1.0, 1.0015, 1.0005, 1.001, 1.0011, 1.0012]).State);
    }

    [Fact]
    public void One_outlier_among_good_readings_does_not_make_the_probe_unfit()
    {
        var chance = new Random(1);
        double[] readings = [.. Enumerable.Range(0, 20).Select(_ => 0.004 * Draws.Normal(chance))];
        readings[4] += 0.08;
        Assert.Equal(VerdictState.Fit, Usual.Judge(readings).State);
    }

    [Fact]
    public void Many_equal_readings_are_fit_but_two_are_not_enough()
    {
        Assert.Equal(VerdictState.Undecided, Usual.Judge([0.30, 0.30]).State);
        Assert.Equal(VerdictState.Fit, Usual.Judge([.. Enumerable.Repeat(0.30, 25)]).State);
    }

    [Fact]
    public void Where_the_bed_lies_and_in_which_order_readings_came_do_not_matter() =>
        // Two readings alone show a comb only through 0, so that three are drawn at least.
        Gen.Select(Gen.Int[-20, 20].Array[3, 30], Gen.Int[-500, 500], Gen.Int[0, 9999]).Sample((steps, shift, seed) =>
        {
            double[] readings = [.. steps.Select(s => s * 0.0015)];
            double[] moved = [.. steps.Select(s => (s + shift) * 0.0015)];
            new Random(seed).Shuffle(moved);
            SeriesVerdict plain = Usual.Judge(readings);
            SeriesVerdict other = Usual.Judge(moved);
            Assert.Equal(plain.State, other.State);
            Assert.Equal(plain.Confidence, other.Confidence, 6);
        });

    [Fact]
    public void Readings_and_limits_scaled_together_give_the_same_verdict() =>
        Gen.Select(Gen.Double[-0.02, 0.02].Array[2, 30], Gen.Double[0.1, 10]).Sample((readings, scale) =>
        {
            var scaled = new SequentialSigmaTest(Usual.Limits with { GoodSigma = 0.005 * scale, BadSigma = 0.010 * scale });
            SeriesVerdict plain = Usual.Judge(readings);
            SeriesVerdict other = scaled.Judge([.. readings.Select(r => r * scale)]);
            Assert.Equal(plain.State, other.State);
            Assert.Equal(plain.Confidence, other.Confidence, 6);
        });

    [Fact]
    public void Undecided_says_how_many_more_readings_would_decide()
    {
        var chance = new Random(2);
        double[] readings = [.. Enumerable.Range(0, 6).Select(_ => 0.005 * Draws.Normal(chance))];
        SeriesVerdict verdict = Usual.Judge(readings);
        Assert.Equal(VerdictState.Undecided, verdict.State);
        Assert.InRange(verdict.ReadingsStillNeeded, 1, 40);
        Assert.Contains("more readings would decide", verdict.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Anything_finite_gets_a_verdict_of_finite_numbers()
    {
        double[][] series = [[0, 0], [0, 1e9], [1e12, 1e12 + 1], [.. Enumerable.Range(0, 10000).Select(i => Math.Sin(i) * 0.01)], [.. Enumerable.Range(0, 10000).Select(i => i % 7 * 0.005)], [.. Enumerable.Repeat(5.0, 10000)]];
        foreach (double[] readings in series)
        {
            foreach (TailAssumption tails in Enum.GetValues<TailAssumption>())
            {
                FiniteNumbers.AssertAll(new SequentialSigmaTest(new SigmaLimits(Tails: tails)).Judge(readings));
            }
        }
    }

    [Theory]
    [InlineData(0, 0.01, 0.95, 25)]
    [InlineData(0.01, 0.01, 0.95, 25)]
    [InlineData(0.005, double.NaN, 0.95, 25)]
    [InlineData(0.005, double.PositiveInfinity, 0.95, 25)]
    [InlineData(0.005, 0.01, 1, 25)]
    [InlineData(0.005, 0.01, 0.95, 2)]
    public void Limits_outside_their_range_are_named(double good, double bad, double confidence, int cap) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new SequentialSigmaTest(new SigmaLimits(good, bad, confidence, cap)));
}
