using CsCheck;
using ProbeRunner.Metrology.Budgets;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Tests.Budgets;

public class FittedLineTests
{
    private static readonly double[] Temperatures = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511];
    private static readonly double[] Corrections = [-.171, -.169, -.166, -.159, -.164, -.165, -.156, -.157, -.159, -.161, -.160];

    [Fact]
    public void Thermometer_calibration_gives_the_line_of_JCGM_100_H_3()
    {
        // H.3 prints -.1712/.0029, .00218/.00067, -.930, .0035; unrounded by R 4.2.2.
        FittedLine line = FittedLine.Fit(Temperatures, Corrections, origin: 20).Value;

        Close.Relative(-0.1712037901, line.Intercept, 1e-9);
        Close.Relative(0.0028775978, line.InterceptUncertainty, 1e-7);
        Close.Relative(0.0021826977, line.Slope, 1e-7);
        Close.Relative(0.0006679388, line.SlopeUncertainty, 1e-7);
        Close.Relative(-0.9304296031, line.Correlation, 1e-9);
        Close.Relative(0.003497563964, line.ResidualStandardDeviation, 1e-9);
        Assert.Equal(9, line.DegreesOfFreedom);
    }

    [Fact]
    public void Its_slope_has_the_interval_of_t_with_nine_degrees_of_freedom()
    {
        // JCGM 100:2008, table G.2 prints t = 2.26 for 9 degrees of freedom and 95 %; slope and uncertainty are those of H.3.
        (double lower, double upper) = FittedLine.Fit(Temperatures, Corrections, origin: 20).Value.SlopeInterval(0.95).Value;

        Assert.Equal(0.0021826977, (lower + upper) / 2, 1e-9);
        Assert.Equal(2.26, (upper - lower) / 2 / 0.0006679388, 0.005);
    }

    [Fact]
    public void Its_prediction_at_30_degrees_has_the_uncertainty_of_H_3_4()
    {
        Contribution predicted = FittedLine.Fit(Temperatures, Corrections, origin: 20).Value.At(30).Value;

        Close.Relative(-0.1493768127, predicted.Estimate, 1e-9); // H.3.4 prints -.1494/.0041
        Close.Relative(0.004138595753, predicted.StandardUncertainty, 1e-9);
    }

    [Fact]
    public void Predictions_do_not_depend_on_the_origin() => Gen.Select(Gen.Double[-100, 100], Gen.Double[0, 40]).Sample((origin, x) =>
    {
        Contribution one = FittedLine.Fit(Temperatures, Corrections, origin).Value.At(x).Value;
        Contribution other = FittedLine.Fit(Temperatures, Corrections).Value.At(x).Value;
        Close.Absolute(one.Estimate, other.Estimate, 1e-12);
        Close.Absolute(one.StandardUncertainty, other.StandardUncertainty, 1e-9);
    });

    [Fact]
    public void Bad_points_are_refused()
    {
        Assert.Equal(RefusalKind.TooFew, FittedLine.Fit([1, 2], [1, 2]).Refusal!.Kind);
        Assert.Equal(RefusalKind.NotFinite, FittedLine.Fit([1, 2, double.NaN], [1, 2, 3]).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, FittedLine.Fit([1, 2, 3], [1, 2, 3, 4]).Refusal!.Kind);
        Assert.Equal(RefusalKind.Undetermined, FittedLine.Fit([4, 4, 4], [1, 2, 3]).Refusal!.Kind);
        Assert.Equal(RefusalKind.NotFinite, FittedLine.Fit([1, 2, 3], [1, 2, 3]).Value.At(double.NaN).Refusal!.Kind);
    }
}
