using System.Collections.Immutable;
using ProbeRunner.Metrology.JointModel;

namespace ProbeRunner.Metrology.Tests.JointModel;

/// <summary>Sums and differences of heights: laws of the posterior, and beds drawn from it as the outside check.</summary>
public sealed class DifferencesOfHeightTests
{
    private const int Beds = 4000;

    [Fact]
    public void One_place_alone_is_known_as_its_prediction_says()
    {
        SurfacePosterior posterior = Fit(side: 6);
        SurfaceEstimate alone = posterior.Predict(71, 33), sum = posterior.WeightedSum([new WeightedPlace(71, 33, 1)]);

        Assert.Equal(alone.Mean, sum.Mean, 1e-12);
        Assert.Equal(alone.StandardDeviation, sum.StandardDeviation, 1e-9);
    }

    [Fact]
    public void A_place_differs_from_itself_by_nothing()
    {
        SurfaceEstimate none = Fit(side: 6).WeightedSum([new WeightedPlace(71, 33, 1), new WeightedPlace(71, 33, -1)]);

        Assert.Equal(0, none.Mean, 1e-12);
        Assert.Equal(0, none.StandardDeviation, 1e-7);
    }

    [Fact]
    public void Sums_scatter_as_beds_drawn_from_the_posterior_do()
    {
        SurfacePosterior posterior = Fit(side: 6);
        WeightedPlace[] sum = [new(20, 33, 0.25), new(28, 33, 0.25), new(100, 90, 0.5), new(75, 78, -1)];
        SurfaceEstimate said = posterior.WeightedSum(sum);
        double[] drawn =
        [
            .. SurfaceSamples.Draw(posterior, [.. sum.Select(term => (term.X, term.Y))], Beds, new Random(5)).Value
                .Select(bed => bed.Select((height, k) => sum[k].Weight * height).Sum()),
        ];
        double mean = drawn.Average(), deviation = Math.Sqrt(drawn.Average(value => Math.Pow(value - mean, 2)));

        Assert.Equal(mean, said.Mean, 5 * said.StandardDeviation / Math.Sqrt(Beds));
        Assert.InRange(deviation / said.StandardDeviation, 0.95, 1.05);
    }

    [Theory]
    [InlineData(6)]
    [InlineData(22)]
    public void A_map_counted_from_a_place_is_the_differences_from_it(int side)
    {
        SurfacePosterior posterior = Fit(side);
        ImmutableArray<double> xs = [0, 31, 75, 140], ys = [12, 75, 150];
        UncertainMap map = posterior.PredictMapFrom(xs, ys, (75, 75));

        for (int k = 0; k < 12; k++)
        {
            SurfaceEstimate difference = posterior.WeightedSum([new WeightedPlace(xs[k % 4], ys[k / 4], 1), new WeightedPlace(75, 75, -1)]);
            Assert.Equal(difference.Mean, map.Heights.Heights[k], 1e-10);
            Assert.Equal(difference.StandardDeviation, map.StandardDeviations[k], 1e-7);
        }
    }

    [Fact]
    public void More_touches_of_the_place_that_heights_count_from_make_the_whole_map_surer()
    {
        double once = Fit(side: 4).PredictMapFrom([0, 50, 150], [0, 150], (75, 75)).RmsStandardDeviation;
        double often = Fit(side: 4, atHome: 8).PredictMapFrom([0, 50, 150], [0, 150], (75, 75)).RmsStandardDeviation;

        Assert.True(often < once, $"{often} after eight more touches, {once} before.");
    }

    /// <summary>A full grid of 6 x 6 is small enough to be taken reading by reading, one of 22 x 22 is solved by its structure.</summary>
    private static SurfacePosterior Fit(int side, int atHome = 0)
    {
        var random = new Random(8);
        IEnumerable<(double X, double Y)> places =
            Enumerable.Range(0, side * side).Select(k => (150.0 / (side - 1) * (k % side), 150.0 / (side - 1) * (k / side))).Concat(Enumerable.Repeat((75.0, 75.0), atHome));
        return SurfaceModel.Fit(
            [.. places.Select(p => new CaptureReading(p.X, p.Y, (0.05 * Math.Sin(p.X / 40)) + (0.02 * (random.NextDouble() - 0.5)), 0, 1))],
            new SurfaceModelOptions { RepeatabilityMm = 0.006, MayDrift = false }).Value;
    }
}
