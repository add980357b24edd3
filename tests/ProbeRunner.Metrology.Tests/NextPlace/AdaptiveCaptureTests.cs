using ProbeRunner.Benchmarks.BedSuite;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.NextPlace;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Tests.NextPlace;

public sealed class AdaptiveCaptureTests
{
    [Fact]
    public void A_capture_ends_with_a_map_as_good_as_was_wanted()
    {
        SuiteBed bed = Suite.Bed(401);
        AdaptiveCapture capture = Run(bed, Options(bed));

        double squares = Enumerable.Range(0, 400).Average(k =>
        {
            double x = bed.Side * (k % 20) / 19, y = bed.Side * (k / 20) / 19;
            return Math.Pow(capture.Posterior!.Predict(x, y).Mean - bed.HeightAt(x, y), 2);
        });
        Assert.Equal(CaptureState.Reached, capture.State);
        Assert.InRange(capture.Readings.Length, 13, 50);
        Assert.InRange(Math.Sqrt(squares), 0, 0.02);
        Assert.True(capture.ExpectedRmsMm <= 0.02);
        Assert.Empty(capture.Next);
    }

    [Fact]
    public void The_same_readings_give_the_same_places_so_that_a_run_can_be_replayed()
    {
        SuiteBed bed = Suite.Bed(402);

        CaptureReading[] first = [.. Run(bed, Options(bed)).Readings];
        for (int round = 0; round < 3; round++)
        {
            CaptureReading[] again = [.. Run(bed, Options(bed)).Readings];
            Assert.Equal(first.Length, again.Length);
            Assert.All(first.Zip(again), pair => Assert.Equal(pair.First, pair.Second));
        }
    }

    [Fact]
    public void Nothing_forbidden_or_out_of_reach_is_ever_chosen()
    {
        SuiteBed bed = Suite.Bed(404);
        AdaptiveCaptureOptions options = Options(bed) with
        {
            Reachable = new Box(25, 10, bed.Side - 10, bed.Side - 25),
            Forbidden = [new Box(0, 0, 60, 60), new Box((bed.Side / 2) - 20, (bed.Side / 2) - 20, (bed.Side / 2) + 20, (bed.Side / 2) + 20)],
            MostTouches = 30,
            BatchSize = 4,
        };

        Assert.All(Run(bed, options).Readings, r => Assert.True(options.Allows(new Place(r.X, r.Y))));
    }

    [Fact]
    public void A_capture_that_may_touch_no_more_gives_up()
    {
        SuiteBed bed = Suite.Bed(404);
        AdaptiveCapture capture = Run(bed, Options(bed) with { MostTouches = 12, TargetRmsMm = 0.005 });

        Assert.Equal(CaptureState.GaveUp, capture.State);
        Assert.Equal(12, capture.Readings.Length);
        Assert.Empty(capture.Next);
    }

    [Fact]
    public void Options_out_of_range_and_readings_that_are_no_numbers_are_refused()
    {
        SuiteBed bed = Suite.Bed(400);
        Assert.Equal(RefusalKind.OutOfRange, AdaptiveCapture.Start(Options(bed) with { TargetRmsMm = 0 }).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, AdaptiveCapture.Start(Options(bed) with { MostTouches = 3 }).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, AdaptiveCapture.Start(Options(bed) with { Forbidden = [bed.Box] }).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, AdaptiveCapture.Start(Options(bed) with { Printable = new Box(0, 0, 0, 10) }).Refusal!.Kind);
        AdaptiveCapture capture = AdaptiveCapture.Start(Options(bed)).Value;
        Assert.Equal(RefusalKind.NotFinite, capture.With([new CaptureReading(1, 1, double.NaN, 0, 1)]).Refusal!.Kind);
    }

    [Fact]
    public void A_route_is_no_longer_than_the_places_in_their_given_order()
    {
        var random = new Random(4);
        for (int round = 0; round < 50; round++)
        {
            Place[] places = [.. Enumerable.Range(0, 12).Select(_ => new Place(200 * random.NextDouble(), 200 * random.NextDouble()))];
            var route = Route.Shortest(new Place(0, 0), places);
            Assert.Equal(places.OrderBy(p => p.X), route.OrderBy(p => p.X));
            Assert.True(Route.Length(new Place(0, 0), route) <= Route.Length(new Place(0, 0), places) + 1e-9);
        }
    }

    private static AdaptiveCaptureOptions Options(SuiteBed bed) => new()
    {
        Printable = bed.Box,
        Reachable = bed.Box,
        Model = new SurfaceModelOptions { RepeatabilityMm = bed.Noise, MayDrift = false },
    };

    private static AdaptiveCapture Run(SuiteBed bed, AdaptiveCaptureOptions options)
    {
        var chance = new Chance(12);
        AdaptiveCapture capture = AdaptiveCapture.Start(options).Value;
        while (!capture.Next.IsEmpty)
        {
            capture = capture.With([.. capture.Next.Select(p => new CaptureReading(p.X, p.Y, bed.HeightAt(p.X, p.Y) + (bed.Noise * chance.Normal()), 0, 1))]).Value;
        }

        return capture;
    }
}
