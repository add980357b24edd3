using ProbeRunner.Metrology.Verdicts;

namespace ProbeRunner.Metrology.Tests.Verdicts;

public sealed class SequentialSigmaTestTests
{
    [Theory]
    [InlineData(new double[0])]
    [InlineData(new[] { 1.0 })]
    [InlineData(new[] { 1.0, double.NaN, 1.0 })]
    public void Nothing_is_decided_without_two_finite_readings(double[] readings)
    {
        SeriesVerdict verdict = new SequentialSigmaTest(new SigmaLimits()).Judge(readings);
        Assert.Equal(VerdictState.Undecided, verdict.State);
        Assert.Null(verdict.Sigma);
        Assert.True(verdict.ReadingsStillNeeded > 0);
    }

    [Fact]
    public void Wild_scatter_is_not_fit_at_once_and_hardly_any_scatter_is_fit_soon()
    {
        var test = new SequentialSigmaTest(new SigmaLimits());
        Assert.Equal(VerdictState.NotFit, test.Judge([1.00, 1.05, 0.97, 1.10, 0.93, 1.08]).State);
        Assert.Equal(VerdictState.Fit, test.Judge([1.001, 1.0, 1.002, 1.001, 1.0, 1.0015, 1.0005, 1.001]).State);
    }
}
