using System.Collections.Immutable;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.NextPlace;

/// <summary>How far an adaptive capture is.</summary>
public enum CaptureState
{
    /// <summary>Touch the next places.</summary>
    Continue,

    /// <summary>The map is as good as was wanted.</summary>
    Reached,

    /// <summary>The most touches were taken before the target was met.</summary>
    GaveUp,
}

/// <summary>
/// A capture that chooses its places as it goes. Immutable: <see cref="With"/> gives the next state. The same readings in the same order always give the same
/// places, so that a run can be replayed.
/// </summary>
public sealed class AdaptiveCapture
{
    private const int LatticeSide = 15;
    private const int CandidateSide = 19;

    /// <summary>The first places lie this part of the reachable extent inside its edges.</summary>
    private const double FirstPlacesInset = 0.06;

    private const double SamePlaceMm = 0.05;

    private readonly ImmutableArray<double> foretoldErrors;
    private readonly Place[] targets;
    private readonly Place[] candidates;

    private AdaptiveCapture(
        AdaptiveCaptureOptions options, ImmutableArray<CaptureReading> readings, ImmutableArray<double> foretoldErrors, Place[] targets, Place[] candidates,
        SurfacePosterior? posterior)
    {
        Options = options;
        Readings = readings;
        this.foretoldErrors = foretoldErrors;
        this.targets = targets;
        this.candidates = candidates;
        Posterior = posterior;
        ExpectedRmsMm = posterior is null ? double.PositiveInfinity : ExpectedRms(posterior, options.Printable);
        State = Judge();
        Next = State == CaptureState.Continue ? Choose() : [];
    }

    /// <summary>What is to be reached and where.</summary>
    public AdaptiveCaptureOptions Options { get; }

    /// <summary>All readings so far.</summary>
    public ImmutableArray<CaptureReading> Readings { get; }

    /// <summary>What they say about the bed; null before there are three at places not on one line.</summary>
    public SurfacePosterior? Posterior { get; }

    /// <summary>Whether to go on.</summary>
    public CaptureState State { get; }

    /// <summary>The places to touch now, in an order that keeps travel short; empty when the capture is over.</summary>
    public ImmutableArray<Place> Next { get; }

    /// <summary>Root mean square of the map's standard uncertainties over the printable area, mm; infinite before there is a map.</summary>
    public double ExpectedRmsMm { get; }

    /// <summary>
    /// Root mean square, over the last four touches (sixteen for a target below 0.0175 mm), of reading less what the map foretold for it, less the probe's own scatter, mm:
    /// the map's error as found, not as believed. Infinite before so many were foretold.
    /// </summary>
    public double FoundRmsMm
    {
        get
        {
            int judged = StoppingRule.For(Options.TargetRmsMm).ErrorsJudged;
            if (foretoldErrors.Length < judged)
            {
                return double.PositiveInfinity;
            }

            double square = foretoldErrors.AsSpan()[^judged..].ToArray().Average(e => e * e);
            return Math.Sqrt(Math.Max(0, square - (Posterior!.RepeatabilityMm * Posterior.RepeatabilityMm)));
        }
    }

    /// <summary>A capture with no reading yet; refused when the options are out of range or leave no place to touch.</summary>
    public static Answer<AdaptiveCapture> Start(AdaptiveCaptureOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        if (options.Check() is { } why)
        {
            return why;
        }

        Place[] candidates = [.. Lattice(options.Reachable, CandidateSide).Where(options.Allows)];
        return candidates.Length >= 9
            ? new AdaptiveCapture(options, [], [], Lattice(options.Printable, LatticeSide), candidates, null)
            : Reason.OutOfRange("The forbidden places leave hardly anything of the reachable area.");
    }

    /// <summary>The capture after further readings, normally those of <see cref="Next"/>, in the order they were taken.</summary>
    /// <param name="readings">New readings; refused when one is not finite.</param>
    public Answer<AdaptiveCapture> With(IReadOnlyList<CaptureReading> readings)
    {
        ArgumentNullException.ThrowIfNull(readings);
        for (int i = 0; i < readings.Count; i++)
        {
            if (!(double.IsFinite(readings[i].X) && double.IsFinite(readings[i].Y) && double.IsFinite(readings[i].Z) && double.IsFinite(readings[i].TimeSeconds)))
            {
                return Reason.NotFinite("Reading", i);
            }
        }

        ImmutableArray<CaptureReading> all = Readings.AddRange(readings);
        ImmutableArray<double> errors = foretoldErrors.AddRange(readings.Select(Foretold).OfType<double>());
        SurfaceModelOptions model = Options.Model with { Bed = Options.Model.Bed ?? Options.Printable };
        return new AdaptiveCapture(Options, all, errors, targets, candidates, SurfaceModel.Fit(all, model).OrElse(null));
    }

    private static Place[] Lattice(Box box, int side) =>
    [
        .. SurfaceMap.Evenly(box.MinY, box.MaxY, side).SelectMany(y => SurfaceMap.Evenly(box.MinX, box.MaxX, side).Select(x => new Place(x, y))),
    ];

    private static double ExpectedRms(SurfacePosterior posterior, Box printable) =>
        posterior.PredictMap(
            SurfaceMap.Evenly(printable.MinX, printable.MaxX, LatticeSide), SurfaceMap.Evenly(printable.MinY, printable.MaxY, LatticeSide)).RmsStandardDeviation;

    /// <summary>
    /// Reading less what the map foretold in the reading's epoch and at its time; null when there was no map, the epoch is new, or the place was
    /// touched before (a revisited reference point would flatter the map).
    /// </summary>
    private double? Foretold(CaptureReading reading)
    {
        var place = new Place(reading.X, reading.Y);
        if (Posterior is null || Readings.Length < 9 || Readings.Any(earlier => place.DistanceTo(new Place(earlier.X, earlier.Y)) < SamePlaceMm))
        {
            return null;
        }

        foreach (EpochOffset epoch in Posterior.EpochOffsets)
        {
            if (epoch.Epoch == reading.Epoch)
            {
                return reading.Z - Posterior.Predict(reading.X, reading.Y).Mean - epoch.Offset.Mean - Posterior.Drift(reading.TimeSeconds).Mean;
            }
        }

        return null;
    }

    private CaptureState Judge()
    {
        var rule = StoppingRule.For(Options.TargetRmsMm);
        if (ExpectedRmsMm <= rule.ExpectedPart * Options.TargetRmsMm && FoundRmsMm <= rule.FoundPart * Options.TargetRmsMm)
        {
            return CaptureState.Reached;
        }

        return Readings.Length >= Options.MostTouches ? CaptureState.GaveUp : CaptureState.Continue;
    }

    private ImmutableArray<Place> Choose()
    {
        Place from = Readings.IsEmpty ? new Place(Options.Reachable.MinX, Options.Reachable.MinY) : new Place(Readings[^1].X, Readings[^1].Y);
        if (Posterior is null || Readings.Length < 9)
        {
            return Route.Shortest(from, FirstPlaces());
        }

        var ahead = new LookAhead(Posterior, targets, candidates);
        int count = Math.Min(Options.BatchSize, Options.MostTouches - Readings.Length);
        return Route.Shortest(from, [.. Enumerable.Range(0, count).Select(_ => candidates[ahead.TakeBest()])]);
    }

    /// <summary>Three by three, each moved to the nearest place that is allowed.</summary>
    private Place[] FirstPlaces()
    {
        Box box = Options.Reachable;
        double insetX = FirstPlacesInset * box.Width, insetY = FirstPlacesInset * box.Depth;
        var inner = new Box(box.MinX + insetX, box.MinY + insetY, box.MaxX - insetX, box.MaxY - insetY);
        return [.. Lattice(inner, 3).Select(place => Options.Allows(place) ? place : candidates.MinBy(place.DistanceTo)).Distinct()];
    }
}
