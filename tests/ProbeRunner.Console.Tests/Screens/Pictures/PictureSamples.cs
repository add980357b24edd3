using System.Collections.Immutable;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Metrology.Thresholds;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Console.Tests.Screens.Pictures;

/// <summary>States of every picture, made up: the bench of a repair workshop.</summary>
internal static class PictureSamples
{
    private static readonly double[] Scatter = [0.0031, -0.0022, 0.0004, -0.0051, 0.0047, 0.0012, -0.0009, 0.0026, -0.0038, 0.0008, 0.0019, -0.0015];

    public static BedOutline Wren { get; } = new(
        240, 240, [new(100, 0, 140, 6), new(100, 234, 140, 240)], [new(202, 0, 240, 240), new(0, 0, 5, 240), new(5, 0, 202, 5), new(5, 231, 202, 240)], new(120, 120));

    public static BedOutline Heron { get; } = new(330, 300, [], [new(290, 0, 330, 300)], new(165, 150));

    /// <summary>Every picture, by name.</summary>
    public static ImmutableSortedDictionary<string, PictureState> All { get; } = new Dictionary<string, PictureState>
    {
        ["series-empty"] = SeriesState.Empty,
        ["series-running"] = Series(7, VerdictWord.Undecided, 0.83, 4),
        ["series-fit"] = Series(12, VerdictWord.Fit, 0.95, 0),
        ["series-not-fit"] = new SeriesState(
            [.. Scatter.Select(part => 2.2134 + (4 * part))], new SeriesSoFar(new StepVerdict(VerdictWord.NotFit, 0.95, ""), 0, 0.0134, 0.0095, 0.0228, 0.005, 0.010)),
        ["step-down-empty"] = StepDownState.Empty,
        ["step-down-asking"] = StepDown(isAsking: true),
        ["step-down-between"] = StepDown(isAsking: false),
        ["map-empty"] = MapState.Empty(Wren, 72),
        ["map-growing"] = Growing(),
        ["map-finished"] = Finished(Wren, MapLayer.Height),
        ["map-uncertainty"] = Finished(Wren, MapLayer.Uncertainty),
        ["map-wide-bed"] = Finished(Heron, MapLayer.Height),
        ["screws-unmeasured"] = new ScrewsState(Wren, [.. Corners.Select(corner => new ScrewMark(corner.Name, corner.Place, null, 0, 0, false))], 0.02, ""),
        ["screws-turning"] = Screws(0.18, -0.12, 0.05, -0.11, isTurning: true),
        ["screws-level"] = Screws(0.008, -0.012, 0.005, -0.001, isTurning: false),
        ["first-layer-laying"] = FirstLayer(judged: 3, null),
        ["first-layer-judged"] = FirstLayer(judged: 9, (-0.021, -0.034, -0.008)),
        ["warm-up-empty"] = WarmUpState.Empty,
        ["warm-up-running"] = WarmUp(14),
        ["warm-up-settled"] = WarmUp(40),
        ["touch-tuning"] = new TouchTuningState(
            [
                new("120 mm/min, lift 2.0", 0.0004, -0.0011, 0.0019, 0.0031, 4.1, VerdictWord.Fit),
                new("300 mm/min, lift 2.0", 0.0012, -0.0008, 0.0032, 0.0036, 2.9, VerdictWord.Fit),
                new("300 mm/min, lift 1.0", 0.0021, -0.0012, 0.0054, 0.0044, 2.1, VerdictWord.Undecided),
                new("600 mm/min, lift 1.0", 0.0093, 0.0061, 0.0125, 0.0089, 1.6, VerdictWord.NotFit),
            ],
            0.004),
        ["lean"] = new LeanState('X', 240, [new(30, -2.171, 0.008), new(75, -2.190, 0.008), new(120, -2.205, 0.007), new(165, -2.213, 0.008), new(190, -2.231, 0.009)], new(-2.202, 116, -0.00034, -0.00046, -0.00022), 0.04),
        ["lean-empty"] = new LeanState('X', 240, [], null, 0.04),
        ["profile"] = new ProfileState(Wren, new(0, 0, 240, 240), new ProbeOffset(-38, -9, 0), 2.2, 2.8, 4.5, [.. Corners.Select(corner => corner.Place)]),
        ["conclusions-none"] = new ConclusionsState([], 0, false),
        ["conclusions"] = new ConclusionsState(Findings, 1, false),
        ["conclusions-open"] = new ConclusionsState(Findings, 0, true),
        ["compare"] = new CompareState(Wren, Surface(Wren, 0), Surface(Wren, 0.05), "before, 12 November", "now", "The front right corner has sunk by 0.05 mm; that matters."),
        ["gap"] = new GapState(Wren, Lattice(Wren, place => 0.2 + (0.7 * Height(Wren, place))), Lattice(Wren, place => Math.Clamp(1.2 - (5 * Math.Abs(Height(Wren, place))), 0, 1)), 0.2, 0.12, 0.28, new(180, 40)),
    }.ToImmutableSortedDictionary(StringComparer.Ordinal);

    private static (string Name, BedPoint Place)[] Corners =>
        [("front left", new(35, 35)), ("front right", new(205, 35)), ("back left", new(35, 205)), ("back right", new(205, 205))];

    private static ImmutableArray<Finding> Findings =>
    [
        new("verify.off", "The stored offset is not what the paper says.", 0.031, "homing place", 0.95, "Paper dragged at 0.131 mm, expected 0.100 mm.", "Run the step-down again with a clean nozzle."),
        new("grid.tilted", "The bed is tilted more than a mesh should have to correct.", 0.24, "bed", 0.95, "It rises by 0.24 mm from left to right and by 0.03 mm from front to back.", "Level it at its screws, then capture again."),
        new("grid.places-left-out", "Some places of the grid lie on clips and were not touched.", null, "bed", 1, "2 of 36 places.", "Nothing to do; the map is continued there from its surroundings, less surely."),
    ];

    private static SeriesState Series(int count, VerdictWord word, double confidence, int more) => new(
        [.. Scatter[..count].Select(part => 2.2134 + part)], new SeriesSoFar(new StepVerdict(word, confidence, ""), more, 0.0033, 0.0023, 0.0056, 0.005, 0.010));

    private static StepDownState StepDown(bool isAsking) => new(
        [
            new(1, -1.80, "free"), new(1, -1.90, "free"), new(1, -2.00, "free"), new(1, -2.10, "drags"), new(1, -2.06, "drags"), new(1, -2.03, "free"),
            new(1, -2.05, "free"), new(1, -2.07, "drags"), new(1, -2.14, "pinched"), new(1, -2.055, "drags"),
        ],
        [
            new ThresholdEstimate(-2.055, 0.03, -2.105, -2.005, 0.02), new ThresholdEstimate(-2.045, 0.02, -2.085, -2.005, 0.02), new ThresholdEstimate(-2.040, 0.015, -2.070, -2.012, 0.02),
            new ThresholdEstimate(-2.051, 0.012, -2.075, -2.027, 0.018), new ThresholdEstimate(-2.053, 0.010, -2.072, -2.034, 0.018), new ThresholdEstimate(-2.052, 0.008, -2.068, -2.037, 0.017),
        ],
        0.01,
        1,
        isAsking,
        isAsking ? [new("f", "free", "moves freely"), new("d", "drags", "drags, still moves"), new("p", "pinched", "is held"), new("c", "call off", "lift and end")] : []);

    private static MapState Growing()
    {
        MapState map = MapState.Empty(Wren, 72);
        for (int index = 0; index < 21; index++)
        {
            (int row, int column) = (index / 6, index % 6);
            var place = new BedPoint(5 + (39.4 * (row % 2 == 0 ? column : 5 - column)), 5 + (45.2 * row));
            map = map with { Readings = map.Readings.With(place, 2.21 + Height(Wren, place)) };
        }

        return map.WithCursorMoved(0, 0).WithCursorMoved(-8, -12);
    }

    private static MapState Finished(BedOutline bed, MapLayer layer) => MapState.Empty(bed) with
    {
        Heights = Surface(bed, 0),
        Uncertainties = Lattice(bed, place => 0.004 + (0.00015 * place.DistanceTo(bed.HomingPlace))),
        Layer = layer,
        Cursor = new BedPoint(60, 200),
        Readings = ReadingRaster.Over(bed.WidthMm, bed.DepthMm).With(bed.HomingPlace, 2.2),
    };

    private static BedField Surface(BedOutline bed, double sunk) => Lattice(
        bed, place => Height(bed, place) - (sunk * Math.Max(0, (place.X - (bed.WidthMm / 2)) / bed.WidthMm) * Math.Max(0, ((bed.DepthMm / 2) - place.Y) / bed.DepthMm) * 4));

    private static double Height(BedOutline bed, BedPoint place)
    {
        (double u, double v) = ((2 * place.X / bed.WidthMm) - 1, (2 * place.Y / bed.DepthMm) - 1);
        return (0.09 * u) + (0.03 * v) - (0.06 * u * u) + (0.04 * u * v);
    }

    private static BedField Lattice(BedOutline bed, Func<BedPoint, double> value)
    {
        const int Side = 21;
        var field = new BedField(new BedRectangle(5, 5, bed.WidthMm - 38, bed.DepthMm - 9), Side, Side, []);
        return field with { Values = [.. Enumerable.Range(0, Side * Side).Select(index => value(field.PlaceOf(index)))] };
    }

    private static ScrewsState Screws(double frontLeft, double frontRight, double backLeft, double backRight, bool isTurning)
    {
        double[] heights = [frontLeft, frontRight, backLeft, backRight];
        double[] turns = [.. heights.Select(height => Math.Abs(height) <= 0.02 ? 0 : Math.Round(height / 0.7 * 24) / 24)];
        return new ScrewsState(
            Wren, [.. Corners.Select((corner, index) => new ScrewMark(corner.Name, corner.Place, heights[index], turns[index], -0.7 * turns[index], isTurning && index == 0))], 0.02, "round 1");
    }

    private static FirstLayerState FirstLayer(int judged, (double, double, double)? correction)
    {
        double[] heights = [0.10, 0.13, 0.16, 0.19, 0.22, 0.25, 0.28, 0.31, 0.34];
        return new FirstLayerState(
            Wren,
            [
                .. heights.Select((height, index) => new PatchMark(
                    new BedPoint(40 + (80 * (index % 3)), 40 + (80 * (index / 3))),
                    height,
                    index >= judged ? "" : height < 0.12 ? "ridges" : height > 0.28 ? "gaps" : "good",
                    index == judged)),
            ],
            0.12,
            0.28,
            new NozzlePosition(118.4, 44.0, 0.19),
            correction is null ? -0.04 : null,
            correction);
    }

    private static WarmUpState WarmUp(int count)
    {
        var curve = new FittedSettling(2.262, 0.002, -0.071, 420, 1130);
        return new WarmUpState(
            [.. Enumerable.Range(0, count).Select(index => new TimedHeight(index * 45, curve.At(index * 45) + Scatter[index % Scatter.Length]))],
            [.. Enumerable.Range(0, count).Select(index => new TimedHeat(index * 45, 140 - (118 * Math.Exp(-index * 45 / 80.0)), 60 - (38 * Math.Exp(-index * 45 / 260.0))))],
            count < 5 ? null : curve,
            0.005);
    }
}
