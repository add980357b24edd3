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
            options.DepartureMedianMm, options.DepartureLogSd, options.DriftMedianMm,
        ];
        if (positive.Any(value => !(value > 0) || !double.IsFinite(value)) || options.Bed is { HasArea: false })
        {
            return Reason.OutOfRange("Repeatability, lengths, sizes and the bed's extents must be greater than zero.");
        }

        return options.NoDriftProbability is > 0 and < 1 ? null : Reason.OutOfRange("The probability that nothing drifts must lie between 0 and 1.");
    }

    private static Answer<SurfacePosterior> Condition(IReadOnlyList<CaptureReading> readings, SurfaceModelOptions options)
    {
        Box bed = options.Bed ?? Box.Around([.. readings.Select(r => new SurfacePoint(r.X, r.Y, r.Z))]);
        int[] epochs = [.. readings.Select(r => r.Epoch).Distinct().Order()];
        bool timed = options.MayDrift && readings.Any(r => r.TimeSeconds != readings[0].TimeSeconds);
        (double repeatability, double logSd) = Repeatability(readings, options);
        var observed = new Observations(readings, bed, timed, epochs);
        Observations forScales = readings.Count <= MostForScales ? observed : new Observations(Thin(readings), bed, timed, epochs);
        IReadOnlyList<HyperParameters> settings = new Evidence(options, repeatability, logSd)
            .Weigh(forScales, readings.Count <= MostForLocalScale ? int.MaxValue : 1);
        double[][] distances = observed.Distances();
        ImmutableArray<ScatteredProcess> processes =
            [.. settings.Select(setting => ScatteredProcess.Condition(observed, distances, setting)).OfType<ScatteredProcess>()];
        if (processes.IsEmpty)
        {
            return new Reason(RefusalKind.NotConverged, "The readings' covariance could not be factored; look for heights of very different size.");
        }

        LocalScale? localScale = readings.Count <= MostForLocalScale ? ScaleFrom(observed, processes, bed) : null;
        return new SurfacePosterior(
            [.. processes], new DatumAndDrift(observed, processes), localScale, repeatability, bed, readings.Count);
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

    /// <summary>Every n-th reading after an order that mixes the places, every epoch kept.</summary>
    private static List<CaptureReading> Thin(IReadOnlyList<CaptureReading> readings)
    {
        // Multiples of the golden ratio visit any order evenly without following a row of a grid.
        const double Golden = 0.6180339887498949;
        List<CaptureReading> mixed = [.. readings.Select((r, i) => (r, Key: i * Golden % 1)).OrderBy(r => r.Key).Select(r => r.r).Take(MostForScales)];
        mixed.AddRange(readings.Select(r => r.Epoch).Distinct().Except(mixed.Select(r => r.Epoch).ToList()).Select(epoch => readings.First(r => r.Epoch == epoch)));
        return mixed;
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
}
