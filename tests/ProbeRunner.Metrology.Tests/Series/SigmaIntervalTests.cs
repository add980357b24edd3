using ProbeRunner.Metrology.Series;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Series;

public sealed class SigmaIntervalTests
{
    // NIST/SEMATECH e-Handbook 7.2.3 (the series) and formula; limits [C] R 4.2.2.
    [Fact]
    public void Interval_agrees_with_R_4_2_2_for_the_handbook_example()
    {
        SigmaInterval interval = SigmaInterval.Of(13.97, 9);
        Near(9.609058, interval.Lower, 1e-7);
        Near(25.503774, interval.Upper, 1e-7);
    }

    // [C] R 4.2.2.
    [Theory]
    [InlineData(5, .599133, 2.873556)]
    [InlineData(10, .687835, 1.825610)]
    [InlineData(20, .760490, 1.460572)]
    [InlineData(25, .780828, 1.391152)]
    [InlineData(30, .796407, 1.344315)]
    [InlineData(50, .835334, 1.246133)]
    public void Limits_of_sigma_over_s_agree_with_R_4_2_2(int count, double lower, double upper)
    {
        SigmaInterval interval = SigmaInterval.Of(1, count - 1);
        Assert.Equal(lower, interval.Lower, 6);
        Assert.Equal(upper, interval.Upper, 6);
    }
}
