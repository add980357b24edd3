using CsCheck;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Series;

public sealed class SeriesSummaryTests
{
    public static TheoryData<string, double[], double, double, double, double> Certified => new()
    {
        { "Michelso", Michelson, 299.852400000000, 0.0790105478190518, 0.535199668621283, 1e-11 },
        { "Mavro", Mavro, 2.00185600000000, 0.000429123454003053, 0.937989183438248, 1e-11 },
        { "Lew", Lew, -177.435000000000, 277.332168044316, -0.307304800605679, 1e-13 },
        { "NumAcc1", [10000001, 10000003, 10000002], 10000002, 1, -0.5, 1e-15 },
        { "NumAcc2", NumAcc(1), 1.2, 0.1, -0.999, 1e-14 },
        { "NumAcc3", NumAcc(1e6), 1000000.2, 0.1, -0.999, 1e-9 },
        { "NumAcc4", NumAcc(1e7), 10000000.2, 0.1, -0.999, 1e-8 },
    };

    // NIST StRD univariate, certified values [R].
    [Theory]
    [MemberData(nameof(Certified))]
    public void Mean_sd_and_lag_1_autocorrelation_meet_the_values_certified_by_NIST_StRD(
        string name, double[] readings, double mean, double sd, double lag1, double relative)
    {
        SeriesSummary summary = SeriesSummary.Of(readings).Value;
        Assert.NotEmpty(name);
        Near(mean, summary.Mean, Math.Min(relative, 1e-14));
        Near(sd, summary.StandardDeviation, relative);
        Near(lag1, summary.Lag1Autocorrelation!.Value, relative);
    }

    // von Neumann 1941, definition; values [C] R 4.2.2.
    [Fact]
    public void Von_Neumann_ratio_agrees_with_R_4_2_2()
    {
        Near(0.9290901324, SeriesSummary.Of(Michelson).Value.VonNeumannRatio!.Value, 1e-9);
        Near(0.09087685078, SeriesSummary.Of(Mavro).Value.VonNeumannRatio!.Value, 1e-9);
        Near(2.609642073, SeriesSummary.Of(Lew).Value.VonNeumannRatio!.Value, 1e-9);
    }

    // [C] R 4.2.2.
    [Fact]
    public void Short_term_deviation_agrees_with_R_4_2_2()
    {
        SeriesSummary summary = SeriesSummary.Of(Michelson).Value;
        Near(0.05385164807, summary.ShortTermStandardDeviation, 1e-9);
        Near(0.04654929306, summary.MovingRangeStandardDeviation, 1e-9);
    }

    [Fact]
    public void Adding_a_height_moves_only_mean_and_median_and_scaling_scales_the_rest() =>
        Gen.Select(Gen.Double[-1, 1].Array[2, 60], Gen.Double[-100, 100], Gen.Double[0.1, 10]).Sample((readings, shift, scale) =>
        {
            SeriesSummary plain = SeriesSummary.Of(readings).Value;
            SeriesSummary moved = SeriesSummary.Of([.. readings.Select(r => shift + (scale * r))]).Value;
            Assert.Equal(shift + (scale * plain.Mean), moved.Mean, 9);
            Assert.Equal(shift + (scale * plain.Median), moved.Median, 9);
            Assert.Equal(scale * plain.StandardDeviation, moved.StandardDeviation, 9);
            Assert.Equal(scale * plain.RobustScale, moved.RobustScale, 9);
            Assert.Equal(scale * plain.ShortTermStandardDeviation, moved.ShortTermStandardDeviation, 9);
        });

    [Theory]
    [InlineData(new double[0], RefusalKind.TooFew)]
    [InlineData(new[] { 1.0 }, RefusalKind.TooFew)]
    [InlineData(new[] { 1.0, double.NaN }, RefusalKind.NotFinite)]
    [InlineData(new[] { double.PositiveInfinity }, RefusalKind.NotFinite)]
    [InlineData(new[] { 1e308, -1e308 }, RefusalKind.OutOfRange)]
    public void What_has_no_summary_is_refused_with_the_reason(double[] readings, RefusalKind kind) =>
        Assert.Equal(kind, SeriesSummary.Of(readings).Refusal!.Kind);

    [Fact]
    public void Equal_readings_have_no_autocorrelation_and_no_scatter()
    {
        SeriesSummary summary = SeriesSummary.Of([.. Enumerable.Repeat(1.1, 10000)]).Value;
        Assert.Null(summary.Lag1Autocorrelation);
        Assert.Null(summary.VonNeumannRatio);
        Assert.Equal(0, summary.StandardDeviation);
        Assert.Equal(1.1, summary.Mean);
    }
}
