using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Series;

public sealed class IndependenceTests
{
    // NIST/SEMATECH e-Handbook 1.3.5.13 prints Z = 2.6938 for Lew; digits beyond [C] R 4.2.2.
    [Fact]
    public void Runs_about_the_median_of_Lew_agree_with_the_handbook()
    {
        RunsTest test = RunsTest.Of(Lew).Value;
        Assert.Equal((120, 100, 100), (test.Runs, test.Above, test.Below));
        Near(101, test.Expected, 1e-12);
        Near(7.053278934, test.StandardDeviation, 1e-9);
        Near(2.693782591, test.Z, 1e-9);
        Near(0.00706462, test.PValue, 1e-6);
    }

    // [C] R 4.2.2, ties at the median dropped.
    [Fact]
    public void Runs_with_readings_at_the_median_left_out_agree_with_R_4_2_2()
    {
        RunsTest test = RunsTest.Of(MichelsonLess299000).Value;
        Assert.Equal((24, 92), (test.Runs, test.Above + test.Below));
        Assert.Equal(45, Math.Min(test.Above, test.Below));
        Near(-4.820147, test.Z, 2e-7);
    }

    // NIST/SEMATECH e-Handbook 1.3.5.12; values [C] R 4.2.2 acf.
    [Fact]
    public void Autocorrelations_agree_with_R_4_2_2()
    {
        Autocorrelation lew = Autocorrelation.Of(Lew, 5).Value;
        double[] expected = [-0.307305, -0.740350, 0.774689, 0.205155, -0.898156];
        for (int k = 0; k < 5; k++)
        {
            Assert.Equal(expected[k], lew.Autocorrelations[k], 1e-6);
        }

        Assert.Equal(0.138590, lew.Band, 1e-6);
        Autocorrelation michelson = Autocorrelation.Of(MichelsonLess299000, 5).Value;
        double[] expectedMichelson = [0.535200, 0.148053, -0.023309, 0.068536, 0.033913];
        for (int k = 0; k < 5; k++)
        {
            Assert.Equal(expectedMichelson[k], michelson.Autocorrelations[k], 1e-6);
        }
    }

    // Ljung and Box 1978; value [C] R 4.2.2.
    [Fact]
    public void Ljung_Box_of_Michelson_agrees_with_R_4_2_2()
    {
        Autocorrelation test = Autocorrelation.Of(MichelsonLess299000).Value;
        Near(29.511865, test.LjungBox, 1e-7);
        Near(5.5575e-08, test.LjungBoxPValue, 1e-4);
    }

    // First-order autoregression, formula; values [C] R 4.2.2.
    [Theory]
    [InlineData(.2, 1.468750000, 13.61702)]
    [InlineData(.5, 2.800000191, 7.142857)]
    [InlineData(.8, 7.023058430, 2.847762)]
    public void Mean_of_twenty_resembling_readings_is_worth_fewer(double rho, double inflation, double effective)
    {
        Near(inflation, MeanInterval.VarianceInflation(20, rho), 1e-8);
        Near(effective, 20 / MeanInterval.VarianceInflation(20, rho), 1e-6);
    }

    [Fact]
    public void Equal_readings_have_no_autocorrelation_to_test()
    {
        double[] equal = [.. Enumerable.Repeat(2.0, 30)];
        Assert.Equal(RefusalKind.Constant, Autocorrelation.Of(equal).Refusal!.Kind);
        Assert.Equal(RefusalKind.Constant, RunsTest.Of(equal).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, Autocorrelation.Of([1, 2, 3, 4], 4).Refusal!.Kind);
        Assert.Equal(0, MeanInterval.Of(equal).Value.StandardError);
    }
}
