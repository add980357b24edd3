using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Verdicts;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Verdicts;

public sealed class PlanTests
{
    // NIST/SEMATECH e-Handbook 7.2.3 (T = 17.56, critical 16.92) [R]; digits beyond [C] R 4.2.2.
    [Fact]
    public void Chi_square_test_of_the_handbook_rejects()
    {
        double statistic = 9 * 13.97 * 13.97 / 100;
        Near(17.564481, statistic, 1e-9);
        Near(16.91897760, ChiSquare.Quantile(0.95, 9), 1e-9);
    }

    // [C] R 4.2.2.
    [Fact]
    public void Fixed_plan_for_one_against_one_and_a_half_takes_26_squares()
    {
        // The reference plan knows the mean: 26 squares are 27 readings when the mean is estimated.
        FixedSigmaPlan plan = FixedSigmaPlan.Smallest(1, 1.5, 0.05, 0.10).Value;
        Assert.Equal(27, plan.Readings);
        Near(38.88513866, plan.CriticalChiSquare, 1e-9);
        Near(.90030720, plan.Power, 1e-7);
    }

    // Metrology notes: 14 touches hold both errors at 5 % for 0.005 against 0.010.
    [Fact]
    public void Fixed_plan_for_the_usual_limits_takes_14_readings() =>
        Assert.Equal(14, FixedSigmaPlan.Smallest(0.005, 0.010).Value.Readings);

    [Theory]
    [InlineData(0, 1)]
    [InlineData(2, 1)]
    [InlineData(1, double.NaN)]
    [InlineData(1, 1.0000001)]
    public void Plans_that_make_no_sense_are_refused(double good, double bad) =>
        Assert.Equal(RefusalKind.OutOfRange, FixedSigmaPlan.Smallest(good, bad).Refusal!.Kind);

    // Wald 1947, ch. 8; formulas [M], values [C] R 4.2.2.
    [Fact]
    public void Walds_boundaries_agree()
    {
        var test = new WaldSigmaTest(1, 1.5, 0.05, 0.10);
        Near(2.890371758, test.UpperLog, 1e-9);
        Near(-2.251291799, test.LowerLog, 1e-9);
        Near(10.40533833 + 1.459674389, test.RejectAt(1), 1e-9);
        Near(-8.104650475 + (10 * 1.459674389), test.AcceptAt(10), 1e-9);
    }

    // Wald 1947, approximate characteristics; values [C] R 4.2.2.
    [Theory]
    [InlineData(1, .95, 15.6179)]
    [InlineData(1.1, .818985, 19.0411)]
    [InlineData(1.2, .583285, 19.8865)]
    [InlineData(1.25, .456811, 18.9619)]
    [InlineData(1.3, .345101, 17.4428)]
    [InlineData(1.4, .186551, 13.8955)]
    [InlineData(1.5, .10, 10.8238)]
    [InlineData(1.75, .024328, 6.2109)]
    [InlineData(2, .007466, 4.0417)]
    public void Walds_approximate_characteristics_agree(double sigma, double acceptance, double meanCount)
    {
        var test = new WaldSigmaTest(1, 1.5, 0.05, 0.10);
        Assert.Equal(acceptance, test.Acceptance(sigma), 1e-6);
        Assert.Equal(meanCount, test.MeanCount(sigma), 1e-4);
    }

    [Fact]
    public void Walds_characteristics_hold_where_the_evidence_does_not_drift()
    {
        var test = new WaldSigmaTest(1, 1.5, 0.05, 0.10);
        double sigma = Math.Sqrt(test.SquaresPerReading);
        Assert.Equal(1.20817, sigma, 1e-5);
        Assert.Equal(.562147, test.Acceptance(sigma), 1e-6);
        Assert.Equal(19.7901, test.MeanCount(sigma), 1e-4);
    }
}
