using System.Collections.Immutable;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>
/// The joint model of a capture: reading = height(x, y) + datum offset of its epoch + drift(t) + touch noise. The height is a quadratic trend
/// with unknown coefficients plus a Gaussian process of Matern order 5/2; the drift is a random walk from zero; the scales of
/// all of them are unknown too, and every setting that fits the readings keeps its say.
/// </summary>
public static class SurfaceModel
{
    /// <summary>Fewest readings that determine a plane.</summary>
    private const int FewestReadings = 3;

    /// <summary>Readings beyond which the scales are weighed on a part of them.</summary>
    private const int MostForScales = 200;

    /// <summary>Readings beyond which neither the local scale nor more than one setting is worth its time.</summary>
    private const int MostForLocalScale = 450;

    /// <summary>Scattered readings beyond which neighbours are averaged, so that memory and time stay bounded.</summary>
    private const int MostScattered = 2500;

    /// <summary>Readings of a large grid from which datum and drift are estimated.</summary>
    private const int MostForDrift = 120;

    private const double UsualRepeatabilityMm = 0.006;
    private const double UsualRepeatabilityLogSd = 0.8;

    /// <summary>Fits the model.</summary>
    /// <param name="readings">Readings in any order, three or more, not all on one line.</param>
    /// <param name="options">What was known before; defaults when null.</param>
    /// <returns>The posterior; refused for fewer than three readings, numbers that are not finite, places on one line, options out of range.</returns>
    public static Answer<SurfacePosterior> Fit(IReadOnlyList<CaptureReading> readings, SurfaceModelOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(readings);
        options ??= new SurfaceModelOptions();
        if (Places.Check([.. readings.Select(r => new SurfacePoint(r.X, r.Y, r.Z))], FewestReadings, "A map") is { } why)
        {
            return why;
        }

        if (readings.Select((r, i) => (r, i)).FirstOrDefault(r => !double.IsFinite(r.r.TimeSeconds), (default, -1)).Item2 is var bad and >= 0)
        {
            return Reason.NotFinite("Time of reading", bad);
        }

        return CheckOptions(options) is { } wrong ? wrong : Condition(readings, options);
    }

    private static Reason? CheckOptions(SurfaceModelOptions options)
    {
        double[] positive =
        [
            options.RepeatabilityMm ?? 1, options.RepeatabilityLogSd, options.LengthMedianMm, options.LengthLogSd,
            options.DepartureMedianMm, options.DepartureLogSd, options.DriftMedianMm, options.BumpLengthMm, options.BumpMm + 1, options.FineStructureMm + 1,
        ];
        if (options.BumpMm < 0 || options.FineStructureMm < 0 || positive.Any(value => !(value > 0) || !double.IsFinite(value)) || options.Bed is { HasArea: false })
        {
            return Reason.OutOfRange("Repeatability, lengths, sizes and the bed's extents must be greater than zero.");
        }

        return options.NoDriftProbability is > 0 and < 1 ? null : Reason.OutOfRange("The probability that nothing drifts must lie between 0 and 1.");
    }

    private static Answer<SurfacePosterior> Condition(IReadOnlyList<CaptureReading> readings, SurfaceModelOptions options)
    {
        Box bed = options.Bed ?? Box.Around([.. readings.Select(r => new SurfacePoint(r.X, r.Y, r.Z))]);
        (double repeatability, double logSd) = Repeatability(readings, options);
        var scales = new ScaleGrid(options, repeatability, logSd);
        var context = new Context(readings, options, bed, repeatability, scales);
        bool grid = readings.Count > MostForLocalScale && FullGrid.Recognise(readings, [.. readings.Select(r => r.Z)]) is not null;
        return grid ? OnGrid(context) : Scattered(context);
    }

    private static Answer<SurfacePosterior> Scattered(Context context)
    {
        IReadOnlyList<CaptureReading> readings = context.Readings;
        (IReadOnlyList<CaptureReading> condensed, double[]? repeats) = readings.Count <= MostScattered ? (readings, null) : Condensed.Of(readings, context.Bed);
        Observations observed = context.Observe(condensed, repeats);
        Observations forScales = readings.Count <= MostForScales ? observed : context.Observe(Thin(readings, MostForScales));
        bool few = readings.Count <= MostForLocalScale;
        IReadOnlyList<HyperParameters> settings = new Evidence(context.Options, context.Scales).Weigh(forScales, few ? int.MaxValue : 1);
        ImmutableArray<ScatteredProcess> processes = Processes(observed, settings, few ? context.Options : context.Options with { BumpMm = 0 });
        if (processes.IsEmpty)
        {
            return new Reason(RefusalKind.NotConverged, "The readings' covariance could not be factored; look for heights of very different size.");
        }

        LocalScale? localScale = few ? ScaleFrom(observed, processes, context.Bed) : null;
        return context.Posterior([.. processes], new DatumAndDrift(observed, processes), localScale, 0);
    }

    /// <summary>
    /// Many readings on a full grid: datum and drift are estimated from a part of the readings (revisited places all of them) and taken off,
    /// then the grid is solved as a whole.
    /// </summary>
    private static Answer<SurfacePosterior> OnGrid(Context context)
    {
        IReadOnlyList<CaptureReading> readings = context.Readings;
        bool steady = !context.Timed && context.Epochs.Length == 1;
        Observations part = context.Observe(steady ? [.. readings.Take(FewestReadings)] : Thin(readings, MostForDrift));
        ImmutableArray<ScatteredProcess> processes = steady
            ? []
            : Processes(part, new Evidence(context.Options, context.Scales).Weigh(part, 3), context.Options);
        var datum = new DatumAndDrift(part, processes);
        double[] heights = steady ? [.. readings.Select(r => r.Z)] : datum.TakenOff(readings);
        FullGrid? grid = FullGrid.Recognise(readings, heights);
        if (grid is null)
        {
            return Scattered(context);
        }

        var candidates = new List<(HyperParameters Setting, double LogWeight)>();
        var likelihoods = new Dictionary<double, GridLikelihood>();
        double[] u = [.. grid.Xs.Select(context.Bed.U)], v = [.. grid.Ys.Select(context.Bed.V)];
        bool square = grid.Xs.Zip(grid.Ys).All(p => p.First == p.Second) && grid.Xs.Length == grid.Ys.Length && u.SequenceEqual(v);
        foreach (double length in SettingChoice.Lengths)
        {
            var alongX = new Axis(grid.Xs, u, length);
            var likelihood = new GridLikelihood(grid, alongX, square ? alongX : new Axis(grid.Ys, v, length));
            likelihoods[length] = likelihood;
            (HyperParameters setting, double log) = context.Scales.Weigh(likelihood, length, 0, _ => 0);
            candidates.Add((setting, log + context.Scales.LogLength(length)));
        }

        return context.Posterior(
            [.. SettingChoice.Keep(candidates, 3).Select(setting => new GridProcess(grid, likelihoods[setting.Length], context.Bed, setting))],
            datum,
            null,
            datum.MeanVariance(readings));
    }

    private static ImmutableArray<ScatteredProcess> Processes(Observations observed, IReadOnlyList<HyperParameters> settings, SurfaceModelOptions options)
    {
        double[][] distances = observed.Distances();
        return
        [
            .. settings.Select(setting => setting with { Bump = options.BumpMm, BumpLength = options.BumpLengthMm })
                .Select(setting => ScatteredProcess.Condition(observed, distances, setting)).OfType<ScatteredProcess>(),
        ];
    }

    private static (double Repeatability, double LogSd) Repeatability(IReadOnlyList<CaptureReading> readings, SurfaceModelOptions options)
    {
        if (options.RepeatabilityMm is { } given)
        {
            return (given, options.RepeatabilityLogSd);
        }

        (double pooled, int freedom) = Repeats.Pooled(readings);
        return freedom >= 4 && pooled > 0
            ? (pooled, Math.Sqrt((1 / (2.0 * freedom)) + 0.09))
            : (UsualRepeatabilityMm, UsualRepeatabilityLogSd);
    }

    /// <summary>A part of the readings from all over the bed and the capture, in an order that follows no row; revisited places and every epoch are kept.</summary>
    private static List<CaptureReading> Thin(IReadOnlyList<CaptureReading> readings, int most)
    {
        // Multiples of the golden ratio visit any order evenly.
        const double Golden = 0.6180339887498949;
        var visits = readings.GroupBy(r => (r.X, r.Y)).ToDictionary(place => place.Key, place => place.Count());
        List<CaptureReading> revisits = [.. readings.Where(r => visits[(r.X, r.Y)] > 1)];
        int step = Math.Max(1, (2 * revisits.Count / most) + 1);
        List<CaptureReading> part = [.. revisits.Where((_, i) => i % step == 0)];
        part.AddRange(readings.Select((r, i) => (r, Key: i * Golden % 1)).Where(r => visits[(r.r.X, r.r.Y)] == 1).OrderBy(r => r.Key).Select(r => r.r).Take(most - part.Count));
        part.AddRange(readings.Select(r => r.Epoch).Except(part.Select(r => r.Epoch)).Select(epoch => readings.First(r => r.Epoch == epoch)).ToList());
        return part;
    }

    private static LocalScale ScaleFrom(Observations observed, ImmutableArray<ScatteredProcess> processes, Box bed)
    {
        double[] squares = new double[observed.Count];
        foreach (ScatteredProcess process in processes)
        {
            (double[] errors, double[] variances) = process.LeaveOneOut();
            for (int i = 0; i < squares.Length; i++)
            {
                squares[i] += process.Setting.Weight * errors[i] * errors[i] / variances[i];
            }
        }

        return new LocalScale(observed.X, observed.Y, squares, Math.Sqrt(bed.Width * bed.Depth));
    }

    /// <summary>What all parts of one fit share.</summary>
    private sealed class Context(IReadOnlyList<CaptureReading> readings, SurfaceModelOptions options, Box bed, double repeatability, ScaleGrid scales)
    {
        public IReadOnlyList<CaptureReading> Readings => readings;

        public SurfaceModelOptions Options => options;

        public Box Bed => bed;

        public ScaleGrid Scales => scales;

        public int[] Epochs { get; } = [.. readings.Select(r => r.Epoch).Distinct().Order()];

        public bool Timed { get; } = options.MayDrift && readings.Any(r => r.TimeSeconds != readings[0].TimeSeconds);

        public Observations Observe(IReadOnlyList<CaptureReading> part, double[]? repeats = null) =>
            new(part, bed, Timed, Epochs, readings.Min(r => r.TimeSeconds), readings.Max(r => r.TimeSeconds), repeats);

        public SurfacePosterior Posterior(ImmutableArray<ISurfaceProcess> processes, DatumAndDrift datum, LocalScale? localScale, double datumVariance) =>
            new(processes, datum, localScale, repeatability, options.FineStructureMm, datumVariance, bed, readings.Count);
    }
}
