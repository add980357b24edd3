using CsCheck;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Series;

public sealed class TrendTests
{
    // [C] R 4.2.2.
    [Fact]
    public void Line_agrees_with_R_4_2_2()
    {
        double[] readings = [0, .4, 1.1, 1.3, 2.2, 2.4, 3.1];
        Trend trend = Trend.Of(readings).Value;
        Near(0.5142857143, trend.SlopePerUnit, 1e-9);
        Near(-0.04285714286, trend.Intercept, 1e-9);
        Near(0.1511857892, trend.ResidualStandardDeviation!.Value, 1e-9);
        Near(1.119523708, Moments.StandardDeviation(readings), 1e-9);
    }

    // Gilbert 1987, ch. 16 example [M]; p [C] enumeration and scipy 1.10.1.
    [Fact]
    public void Mann_Kendall_of_four_readings_is_exact()
    {
        MannKendall test = MannKendall.Of([10, 15, 14, 20]).Value;
        Assert.Equal(4, test.S);
        Near(1.0 / 3, test.PValue, 1e-12);
        Near(2.916667, test.SenSlope, 1e-6);
        Near(4.0 / 24, MannKendall.ShareAtOrAbove(4, 4), 1e-12);
    }

    // Kendall's tables; [C] enumeration.
    [Fact]
    public void Exact_law_of_six_readings_agrees_with_the_count_over_720_orders()
    {
        Near(1.0 / 720, MannKendall.ShareAtOrAbove(6, 15), 1e-12);
        Near(20.0 / 720, MannKendall.ShareAtOrAbove(6, 11), 1e-12);
    }

    public static TheoryData<double[], long, double, double> WithTies => new()
    {
        { Nile, -1387, 112728.3333, -4.128066523 },
        { LakeHuron, -1682, 106136.6667, -5.159825 },
        { NewHaven, 624, 24530, 3.977766 },
        { MichelsonLess299000, -1265, 112279.6667, -3.772216 },
    };

    // R datasets, values [C] R 4.2.2; the three other than Michelson's typed from memory, which S and the variance confirm.
    [Theory]
    [MemberData(nameof(WithTies))]
    public void Mann_Kendall_with_ties_agrees_with_R_4_2_2(double[] readings, long s, double variance, double z)
    {
        MannKendall test = MannKendall.Of(readings).Value;
        Assert.Equal(s, test.S);
        Near(variance, test.Variance, 1e-9);
        Near(z, test.Z, 2e-7);
    }

    [Fact]
    public void Sen_slope_and_p_of_the_Nile_agree_with_R_4_2_2()
    {
        MannKendall nile = MannKendall.Of(Nile).Value;
        Near(3.658263e-05, nile.PValue, 1e-6);
        Near(-2.6, nile.SenSlope, 1e-12);
        Near(-1.071429, MannKendall.Of(MichelsonLess299000).Value.SenSlope, 1e-6);
    }

    [Fact]
    public void Sen_slope_without_listing_all_pairs_equals_the_listed_one()
    {
        double[] values = [.. Enumerable.Range(0, 900).Select(i => (0.001 * i) + Math.Sin(i * i))];
        double[] slopes = [.. from i in Enumerable.Range(0, 900) from j in Enumerable.Range(i + 1, 900 - i - 1) select (values[j] - values[i]) / (j - i)];
        Assert.Equal(Moments.Median(slopes), SenSlopes.AtScore(values, 0), 6);
    }

    [Fact]
    public void Order_reversed_turns_the_sign_of_S_and_scaling_leaves_it() =>
        Gen.Select(Gen.Int[-1000, 1000].Array[3, 50], Gen.Double[0.1, 10]).Sample((steps, scale) =>
        {
            double[] readings = [.. steps.Select(i => (double)i)];
            long s = MannKendall.Of(readings).Value.S;
            Assert.Equal(-s, MannKendall.Of([.. readings.Reverse()]).Value.S);
            Assert.Equal(s, MannKendall.Of([.. readings.Select(r => 3 + (scale * r))]).Value.S);
        });

    [Fact]
    public void Ten_thousand_readings_have_a_trend()
    {
        MannKendall test = MannKendall.Of([.. Enumerable.Range(0, 10000).Select(i => (1e-6 * i) + (0.001 * Math.Sin(i * (double)i)))]).Value;
        Assert.InRange(test.SenSlope, 0.9e-6, 1.1e-6);
        Assert.InRange(test.SenSlope, test.SenLower, test.SenUpper);
    }

    [Fact]
    public void Equal_readings_have_no_trend_and_equal_times_no_line()
    {
        MannKendall flat = MannKendall.Of([.. Enumerable.Repeat(1.0, 50)]).Value;
        Assert.Equal((0L, 0.0, 1.0, 0.0), (flat.S, flat.Z, flat.PValue, flat.SenSlope));
        Assert.Equal(RefusalKind.Undetermined, Trend.Of([1, 1, 1], [1, 2, 3]).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, Trend.Of([1, 2], [1, 2, 3]).Refusal!.Kind);
    }
}
