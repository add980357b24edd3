using ProbeRunner.Metrology.Distributions;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Distributions;

// All values [C] R 4.2.2; the noncentral t also scipy 1.10.1.
public sealed class DistributionTests
{
    [Fact]
    public void Normal_quantile_agrees_with_R_4_2_2() => Near(1.95996398454, StandardNormal.Quantile(0.975), 1e-11);

    [Theory]
    [InlineData(1, 12.70620473617)]
    [InlineData(2, 4.302652729749)]
    [InlineData(4, 2.776445105198)]
    [InlineData(9, 2.262157162798)]
    [InlineData(24, 2.063898561628)]
    [InlineData(49, 2.009575237129)]
    [InlineData(99, 1.984216951586)]
    public void Student_t_quantile_agrees_with_R_4_2_2(double freedom, double quantile) => Near(quantile, StudentT.Quantile(0.975, freedom), 1e-12);

    [Theory]
    [InlineData(4, .4844185570879, 11.14328678188)]
    [InlineData(9, 2.700389499980, 19.02276779864)]
    [InlineData(24, 12.40115021744, 39.3640770266)]
    [InlineData(49, 31.55491646267, 70.22241356643)]
    public void Chi_square_quantiles_agree_with_R_4_2_2(double freedom, double lower, double upper)
    {
        Near(lower, ChiSquare.Quantile(0.025, freedom), 1e-12);
        Near(upper, ChiSquare.Quantile(0.975, freedom), 1e-12);
    }

    [Fact]
    public void Probabilities_agree_with_R_4_2_2()
    {
        Near(.8926975048673, NoncentralT.Below(2.5, 9, 1), 1e-12);
        Near(.7866906949166, ChiSquare.Below(12, 9), 1e-12);
        Near(.9248533703647, FisherF.Below(2.5, 4, 20), 1e-12);
        Near(1.985595, FisherF.Quantile(0.95, 9, 90), 1e-6);
        Near(2.124029, FisherF.Quantile(0.95, 9, 40), 1e-6);
        Near(2.451939, FisherF.Quantile(0.975, 9, 40), 1e-6);
    }

    [Theory]
    [InlineData(1e-12)]
    [InlineData(0.3)]
    [InlineData(0.999999)]
    public void Quantiles_and_probabilities_undo_each_other(double probability)
    {
        Near(probability, StandardNormal.Below(StandardNormal.Quantile(probability)), 1e-9);
        Near(probability, StudentT.Below(StudentT.Quantile(probability, 3), 3), 1e-9);
        Near(probability, ChiSquare.Below(ChiSquare.Quantile(probability, 1), 1), 1e-9);
        Near(probability, FisherF.Below(FisherF.Quantile(probability, 5, 7), 5, 7), 1e-9);
    }
}
