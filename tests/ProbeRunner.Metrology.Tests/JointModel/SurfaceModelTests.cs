using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Tests.JointModel;

public sealed class SurfaceModelTests
{
    [Fact]
    public void A_smooth_bed_is_mapped_within_what_the_model_says()
    {
        CaptureReading[] readings = Grid(6, 0.004, 11, (x, y) => Bed(x, y));
        SurfacePosterior posterior = SurfaceModel.Fit(readings, new SurfaceModelOptions { RepeatabilityMm = 0.004 }).Value;

        double squares = 0, expected = 0;
        for (int k = 0; k < 121; k++)
        {
            SurfaceEstimate at = posterior.Predict(22 * (k % 11), 22 * (k / 11));
            squares += Math.Pow(at.Mean - Bed(22 * (k % 11), 22 * (k / 11)), 2);
            expected += at.StandardDeviation * at.StandardDeviation;
        }

        Assert.InRange(Math.Sqrt(squares / 121), 0, 0.008);
        Assert.InRange(Math.Sqrt(squares / expected), 0.3, 2);
    }

    [Fact]
    public void A_shift_of_all_heights_shifts_the_map_and_nothing_else()
    {
        CaptureReading[] readings = Grid(5, 0.004, 3, Bed);
        var options = new SurfaceModelOptions { RepeatabilityMm = 0.004 };
        SurfacePosterior low = SurfaceModel.Fit(readings, options).Value;
        SurfacePosterior high = SurfaceModel.Fit([.. readings.Select(r => r with { Z = r.Z + 3 })], options).Value;

        Assert.Equal(low.Predict(33, 77).Mean + 3, high.Predict(33, 77).Mean, 1e-9);
        Assert.Equal(low.Predict(33, 77).StandardDeviation, high.Predict(33, 77).StandardDeviation, 1e-9);
    }

    [Fact]
    public void A_map_is_the_same_on_a_lattice_as_place_by_place()
    {
        SurfacePosterior posterior = SurfaceModel.Fit(Grid(5, 0.004, 5, Bed)).Value;
        UncertainMap map = posterior.PredictMap([10, 80, 200], [0, 150]);

        Assert.Equal(posterior.Predict(80, 150).Mean, map.Heights[1, 1], 1e-12);
        Assert.Equal(posterior.Predict(80, 150).StandardDeviation, map.StandardDeviations[4], 1e-12);
        Assert.Equal(map.Heights[2, 0], posterior.PredictHeights([10, 80, 200], [0, 150])[2, 0], 1e-12);
    }

    [Fact]
    public void The_datum_of_a_second_homing_is_found_where_both_saw_the_bed()
    {
        CaptureReading[] readings = [.. Grid(6, 0.003, 17, Bed).Select((r, k) => k % 2 == 0 ? r : r with { Epoch = 4, Z = r.Z + 0.06 })];
        SurfacePosterior posterior = SurfaceModel.Fit(readings, new SurfaceModelOptions { RepeatabilityMm = 0.003 }).Value;

        Assert.Equal(0, posterior.EpochOffsets[0].Offset.Mean);
        Assert.Equal(4, posterior.EpochOffsets[1].Epoch);
        Assert.InRange(posterior.EpochOffsets[1].Offset.Mean, 0.055, 0.065);
        Assert.InRange(posterior.EpochOffsets[1].Offset.StandardDeviation, 0.0003, 0.004);
        Assert.InRange(posterior.Predict(100, 100).Mean - Bed(100, 100), -0.01, 0.01);
    }

    [Fact]
    public void A_drift_shows_where_a_reference_point_is_revisited()
    {
        var random = new Random(5);
        var readings = new List<CaptureReading>();
        for (int k = 0; k < 60; k++)
        {
            (double x, double y) = k % 5 == 0 ? (110.0, 110.0) : (220 * random.NextDouble(), 220 * random.NextDouble());
            readings.Add(new CaptureReading(x, y, Bed(x, y) + (0.05 * k / 59) + (0.003 * (random.NextDouble() - 0.5)), 10 * k, 1));
        }

        SurfacePosterior posterior = SurfaceModel.Fit(readings, new SurfaceModelOptions { RepeatabilityMm = 0.002 }).Value;
        SurfaceEstimate end = posterior.Drift(590);

        Assert.True(posterior.DriftProbability > 0.9);
        Assert.InRange(end.Mean, 0.05 - (3 * end.StandardDeviation), 0.05 + (3 * end.StandardDeviation));
        Assert.InRange(end.StandardDeviation, 0.0005, 0.01);
        Assert.InRange(posterior.Predict(110, 110).Mean - Bed(110, 110), -0.01, 0.01);
    }

    [Fact]
    public void What_gives_no_map_is_refused_with_the_reason()
    {
        Assert.Equal(RefusalKind.TooFew, SurfaceModel.Fit([]).Refusal!.Kind);
        Assert.Equal(RefusalKind.TooFew, SurfaceModel.Fit([new(0, 0, 0, 0, 1), new(1, 0, 0, 0, 1)]).Refusal!.Kind);
        Assert.Equal(RefusalKind.NotFinite, SurfaceModel.Fit([.. Grid(3, 0, 1, Bed), new(1, 1, double.NaN, 0, 1)]).Refusal!.Kind);
        Assert.Equal(RefusalKind.NotFinite, SurfaceModel.Fit([.. Grid(3, 0, 1, Bed), new(1, 1, 0, double.NaN, 1)]).Refusal!.Kind);
        Assert.Equal(RefusalKind.Undetermined, SurfaceModel.Fit([.. Enumerable.Range(0, 9).Select(k => new CaptureReading(k, k, 0, 0, 1))]).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, SurfaceModel.Fit(Grid(3, 0, 1, Bed), new SurfaceModelOptions { RepeatabilityMm = 0 }).Refusal!.Kind);
    }

    [Theory]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(6)]
    [InlineData(9)]
    public void A_few_readings_give_a_finite_map(int count)
    {
        (double X, double Y)[] places = [(0, 0), (220, 0), (0, 220), (220, 220), (110, 110), (110, 0), (0, 110), (220, 110), (110, 220)];
        SurfacePosterior posterior = SurfaceModel.Fit([.. places.Take(count).Select((p, k) => new CaptureReading(p.X, p.Y, Bed(p.X, p.Y), k, 1))]).Value;

        SurfaceEstimate at = posterior.Predict(60, 160);
        Assert.True(double.IsFinite(at.Mean) && double.IsFinite(at.StandardDeviation) && at.StandardDeviation > 0);
    }

    [Fact]
    public void Equal_readings_at_equal_places_give_a_finite_map()
    {
        CaptureReading[] readings = [.. Enumerable.Range(0, 30).Select(k => new CaptureReading(k % 2 * 100, k % 3 * 100, 0.1, k, k % 2))];
        SurfaceEstimate at = SurfaceModel.Fit(readings).Value.Predict(50, 50);

        Assert.Equal(0.1, at.Mean, 1e-6);
        Assert.True(double.IsFinite(at.StandardDeviation));
    }

    private static double Bed(double x, double y) =>
        (0.2 * (x / 220)) + (0.15 * ((x - 110) * (x - 110) / 12100)) + (0.06 * Math.Exp(-(((x - 150) * (x - 150)) + ((y - 60) * (y - 60))) / 1200));

    private static CaptureReading[] Grid(int side, double noise, int seed, Func<double, double, double> bed)
    {
        var random = new Random(seed);
        return [.. Enumerable.Range(0, side * side).Select(k =>
        {
            double x = 220.0 * (k % side) / (side - 1), y = 220.0 * (k / side) / (side - 1);
            double normal = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            return new CaptureReading(x, y, bed(x, y) + (noise * normal), 5 * k, 1);
        })];
    }
}
