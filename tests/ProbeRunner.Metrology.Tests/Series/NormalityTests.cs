using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Series;

public sealed class NormalityTests
{
    public static TheoryData<double[], double, double> Published => new()
    {
        { Michelson, 0.4607638557, 0.2549566 },
        { Rosner, 1.735689163, 1.660998e-04 },
        { Conover, 0.33387423, 0.50237 },
    };

    // Stephens 1986, Table 4.9; values [C] nortest 1.0-4 under R 4.2.2, Conover's also scipy 1.10.1.
    [Theory]
    [MemberData(nameof(Published))]
    public void Anderson_Darling_agrees_with_nortest(double[] readings, double square, double p)
    {
        Normality test = Normality.Of(readings).Value;
        Near(square, test.AndersonDarling, 3e-8);
        Near(p, test.PValue, 1e-5);
    }

    [Fact]
    public void Modified_statistic_of_Michelson_agrees_with_nortest() => Near(0.4643232564, Normality.Of(Michelson).Value.Modified, 1e-9);

    // NAG g08ck example results [R]: A2 0.165956, p 0.931155 (n = 26 inferred).
    [Fact]
    public void P_value_agrees_with_the_NAG_example()
    {
        double modified = 0.165956 * (1 + (0.75 / 26) + (2.25 / (26 * 26)));
        Near(0.171296, modified, 3e-6);
        Near(0.931155, Normality.Probability(modified), 1e-6);
    }

    [Fact]
    public void Wild_equal_and_few_readings_have_a_typed_answer()
    {
        Assert.Equal(RefusalKind.Constant, Normality.Of([.. Enumerable.Repeat(1.0, 20)]).Refusal!.Kind);
        Assert.Equal(RefusalKind.TooFew, Normality.Of([1, 2, 3]).Refusal!.Kind);
        Assert.Equal(0, Normality.Of([.. Enumerable.Range(0, 10000).Select(i => i == 5 ? 1e9 : Math.Sin(i))]).Value.PValue);
    }
}
