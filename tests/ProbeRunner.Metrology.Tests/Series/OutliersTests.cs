using CsCheck;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Series;

public sealed class OutliersTests
{
    // Rosner 1983; NIST/SEMATECH e-Handbook 1.3.5.17.3 [R], its table truncated to 3 decimals; digits beyond [C] R 4.2.2.
    [Fact]
    public void Generalized_ESD_finds_the_three_outliers_of_Rosner_1983()
    {
        Outliers outliers = Outliers.Of(Rosner, 10).Value;
        Assert.Equal([6.01, 5.42, 5.34], outliers.Indices.Select(i => Rosner[i]));
        double[] statistics = [3.118906, 2.942973, 3.179424, 2.810181, 2.815580, 2.848172, 2.279327, 2.310366, 2.101581, 2.067178];
        double[] critical = [3.158794, 3.151430, 3.143890, 3.136165, 3.128247, 3.120128, 3.111797, 3.103243, 3.094456, 3.085425];
        for (int i = 0; i < 10; i++)
        {
            Assert.Equal(statistics[i], outliers.Steps[i].Statistic, 1e-6);
            Assert.Equal(critical[i], outliers.Steps[i].Critical, 1e-6);
        }
    }

    // NIST/SEMATECH e-Handbook 1.3.5.17.1 prints G = 2.4687 and 2.032; digits beyond [C] R 4.2.2.
    [Fact]
    public void Grubbs_statistic_of_the_handbook_example_agrees()
    {
        OutlierStep step = Outliers.Of(Numbers("199.31 199.53 200.19 200.82 201.92 201.95 202.18 245.57"), 1).Value.Steps[0];
        Near(2.468764611, step.Statistic, 1e-9);
        Near(2.126645087, step.Critical, 1e-9);
        Near(2.031652002, Outliers.Critical(8, 0.05), 1e-9);
    }

    // Grubbs 1969, formula; values [C] R 4.2.2.
    [Theory]
    [InlineData(3, 1.153118, 1.154305)]
    [InlineData(5, 1.671386, 1.715037)]
    [InlineData(10, 2.176068, 2.289954)]
    [InlineData(20, 2.556581, 2.708246)]
    [InlineData(30, 2.745132, 2.908473)]
    [InlineData(50, 2.956975, 3.128247)]
    public void Grubbs_critical_values_agree_with_R_4_2_2(int count, double oneSided, double twoSided)
    {
        Assert.Equal(oneSided, Outliers.Critical(count, 0.05), 1e-6);
        Assert.Equal(twoSided, Outliers.Critical(count, 0.025), 1e-6);
    }

    [Fact]
    public void Outliers_are_the_same_readings_after_shuffling_and_scaling() =>
        Gen.Select(Gen.Double[-1, 1].Array[10, 40], Gen.Double[0.1, 10], Gen.Int[0, 1000]).Sample((readings, scale, seed) =>
        {
            readings[3] = 5;
            double[] shuffled = [.. readings];
            new Random(seed).Shuffle(shuffled);
            double[] plain = [.. Outliers.Of(readings).Value.Indices.Select(i => readings[i]).Order()];
            double[] moved = [.. Outliers.Of([.. shuffled.Select(r => 7 + (scale * r))]).Value.Indices.Select(i => shuffled[i]).Order()];
            Assert.Equal(plain, moved);
            Assert.Contains(5, plain);
        });

    [Fact]
    public void Equal_readings_have_no_outlier_and_two_are_too_few()
    {
        Assert.Empty(Outliers.Of([.. Enumerable.Repeat(0.1, 100)]).Value.Indices);
        Assert.Equal(RefusalKind.TooFew, Outliers.Of([1, 2]).Refusal!.Kind);
        Assert.Single(Outliers.Of([.. Enumerable.Range(0, 10000).Select(i => i == 77 ? 9 : Math.Sin(i))]).Value.Indices, 77);
    }
}
