using ProbeRunner.Metrology.Series;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Series;

public sealed class ToleranceFactorTests
{
    // NIST/SEMATECH e-Handbook 7.2.6.3 (43 wafers, 90 % share, 99 % confidence); Howe's factor [R], exact ones [C] R 4.2.2.
    [Fact]
    public void Factors_of_the_handbook_example_agree()
    {
        Near(1.873954, ToleranceFactor.OneSided(43, 0.90, 0.99), 1e-6);
        Near(2.217315897, ToleranceFactor.TwoSidedHowe(43, 0.90, 0.99), 1e-9);
        Assert.Equal(2.222825, ToleranceFactor.TwoSided(43, 0.90, 0.99), 2e-6);
    }

    // ISO 16269-6 tables [M]; values [C] by integration, one-sided n = 10 also scipy 1.10.1: 2.9109634131.
    [Theory]
    [InlineData(5, 4.202681, 5.076875, 5.093526)]
    [InlineData(10, 2.910963, 3.393429, 3.381913)]
    [InlineData(20, 2.396002, 2.760346, 2.752285)]
    [InlineData(25, 2.291675, 2.637740, 2.631299)]
    [InlineData(30, 2.219838, 2.554893, 2.549635)]
    [InlineData(50, 2.064993, 2.381560, 2.378769)]
    [InlineData(100, 1.926539, 2.233882, 2.232803)]
    public void Exact_factors_for_95_percent_of_readings_at_95_percent_agree_with_integration_in_R(int count, double oneSided, double twoSided, double howe)
    {
        Assert.Equal(oneSided, ToleranceFactor.OneSided(count), 2e-6);
        Assert.Equal(twoSided, ToleranceFactor.TwoSided(count), 2e-6);
        Assert.Equal(howe, ToleranceFactor.TwoSidedHowe(count), 2e-6);
    }

    [Theory]
    [InlineData(1, 0.95, 0.95)]
    [InlineData(10, 1.0, 0.95)]
    [InlineData(10, 0.95, double.NaN)]
    public void Arguments_outside_their_range_are_named(int count, double share, double confidence) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => ToleranceFactor.OneSided(count, share, confidence));
}
