using ProbeRunner.Metrology.Budgets;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Tests.Budgets;

public class DistributionTests
{
    // JCGM 101:2008, 6.4: formulas; values for a half-width of 1 computed with R 4.2.2.
    public static TheoryData<InputDistribution, double> StandardDeviations => new()
    {
        { new RectangularDistribution(0, 1), 0.577350269 },
        { new TriangularDistribution(0, 1), 0.408248290 },
        { new ArcsineDistribution(0, 1), 0.707106781 },
        { new TrapezoidDistribution(0, 1, 0.5), 0.456435465 },
    };

    [Theory]
    [MemberData(nameof(StandardDeviations))]
    public void Standard_deviations_are_those_of_JCGM_101_6_4(InputDistribution distribution, double expected) =>
        Close.Absolute(expected, distribution.StandardDeviation, 1e-9);

    [Fact]
    public void An_inexact_rectangle_has_the_standard_deviation_of_JCGM_101_6_4_3_3() =>
        Close.Relative(5.78311719e-07, new InexactRectangularDistribution(0, 1e-6, 0.1e-6).StandardDeviation, 1e-8); // formula as in sandialabs/suncal tests

    public static TheoryData<InputDistribution> All =>
    [
        new NormalDistribution(3, 0.2), new StudentDistribution(3, 0.2, 9), new RectangularDistribution(3, 0.2), new TriangularDistribution(3, 0.2),
        new ArcsineDistribution(3, 0.2), new TrapezoidDistribution(3, 0.2, 0.3), new InexactRectangularDistribution(3, 0.2, 0.1),
    ];

    [Theory]
    [MemberData(nameof(All))]
    public void Draws_have_the_centre_and_standard_deviation_stated(InputDistribution distribution)
    {
        var chance = new Random(20_240_601);
        double[] draws = [.. Enumerable.Range(0, 200_000).Select(_ => distribution.Draw(chance))];
        double mean = draws.Average();
        double deviation = Math.Sqrt(draws.Average(draw => (draw - mean) * (draw - mean)));

        Close.Absolute(distribution.Centre, mean, 5 * distribution.StandardDeviation / Math.Sqrt(draws.Length));
        Close.Relative(distribution.StandardDeviation, deviation, 0.01);
    }

    public static TheoryData<InputDistribution> Impossible =>
    [
        new NormalDistribution(0, -1), new NormalDistribution(double.NaN, 1), new StudentDistribution(0, 1, 2), new RectangularDistribution(0, -1),
        new RectangularDistribution(0, double.PositiveInfinity), new TrapezoidDistribution(0, 1, 1.1), new InexactRectangularDistribution(0, 1, 2),
    ];

    [Theory]
    [MemberData(nameof(Impossible))]
    public void Impossible_parameters_are_refused(InputDistribution distribution) =>
        Assert.Equal(RefusalKind.OutOfRange, Contribution.FromDistribution("x", distribution).Refusal!.Kind);
}
