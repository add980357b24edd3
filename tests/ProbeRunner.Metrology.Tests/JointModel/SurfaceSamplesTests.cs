using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Tests.JointModel;

public sealed class SurfaceSamplesTests
{
    [Fact]
    public void Drawn_beds_scatter_as_the_map_says()
    {
        SurfacePosterior posterior = Fit();
        (double X, double Y)[] places = [(20, 30), (75, 75), (76, 75), (140, 10)];
        var beds = SurfaceSamples.Draw(posterior, places, 4000, new Random(2)).Value;
        for (int k = 0; k < places.Length; k++)
        {
            SurfaceEstimate expected = posterior.Predict(places[k].X, places[k].Y);
            double mean = beds.Average(bed => bed[k]), deviation = Math.Sqrt(beds.Average(bed => Math.Pow(bed[k] - mean, 2)));
            Assert.Equal(expected.Mean, mean, 5 * expected.StandardDeviation / Math.Sqrt(4000));
            Assert.InRange(deviation / expected.StandardDeviation, 0.93, 1.07);
        }
    }

    [Fact]
    public void A_bad_touch_stands_out_of_what_the_others_foretell()
    {
        var left = Fit(bad: 12).LeaveOneOut();

        Assert.Equal(12, Enumerable.Range(0, left.Length).MaxBy(i => Math.Abs(left[i].Mean) / left[i].StandardDeviation));
    }

    [Fact]
    public void Too_many_places_are_refused() =>
        Assert.Equal(RefusalKind.OutOfRange, SurfaceSamples.Draw(Fit(), new (double, double)[1001], 1, new Random(1)).Refusal!.Kind);

    private static SurfacePosterior Fit(int bad = -1)
    {
        var random = new Random(8);
        return SurfaceModel.Fit(
            [.. Enumerable.Range(0, 36).Select(k =>
            {
                double x = 30 * (k % 6), y = 30 * (k / 6);
                return new CaptureReading(x, y, (0.05 * Math.Sin(x / 40)) + (0.004 * (random.NextDouble() - 0.5)) + (k == bad ? 0.15 : 0), 0, 1);
            })],
            new SurfaceModelOptions { RepeatabilityMm = 0.003, MayDrift = false }).Value;
    }
}
