using System.Collections.Immutable;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>The datum of one epoch against the first one's.</summary>
/// <param name="Epoch">Its number.</param>
/// <param name="Offset">By how much its readings are higher than the first epoch's would be, mm; 0 with certainty for the first.</param>
public readonly record struct EpochOffset(int Epoch, SurfaceEstimate Offset);

/// <summary>What the readings of a capture say about the bed, in the datum of the first epoch and as it was at the first reading.</summary>
public sealed class SurfacePosterior
{
    private readonly ImmutableArray<ISurfaceProcess> processes;
    private readonly LocalScale? localScale;
    private readonly DatumAndDrift datum;
    private readonly double fineStructure;
    private readonly double datumVariance;

    internal SurfacePosterior(
        ImmutableArray<ISurfaceProcess> processes, DatumAndDrift datum, LocalScale? localScale, double repeatability, double fineStructure, double datumVariance, Box bed, int readings)
    {
        this.processes = processes;
        this.localScale = localScale;
        this.datum = datum;
        this.fineStructure = fineStructure;
        this.datumVariance = datumVariance;
        RepeatabilityMm = repeatability;
        Bed = bed;
        Readings = readings;
    }

    /// <summary>The box over which the trend runs.</summary>
    public Box Bed { get; }

    /// <summary>How many readings the answer rests on.</summary>
    public int Readings { get; }

    /// <summary>Standard deviation of one touch that the model started from, mm: the given one, or the one its repeated places show.</summary>
    public double RepeatabilityMm { get; }

    /// <summary>Standard deviation of one touch about the smooth surface, mm: repeatability and structure too fine for the readings to resolve.</summary>
    public double NoiseMm => processes.Sum(p => p.Setting.Weight * p.Setting.Noise);

    /// <summary>Length over which the bed's departures from its bow change, mm: the mean over the settings that fit.</summary>
    public double LengthMm => Math.Exp(processes.Sum(p => p.Setting.Weight * Math.Log(p.Setting.Length)));

    /// <summary>Standard deviation of the structure that is too fine to be resolved, mm.</summary>
    public double UnresolvedMm => Math.Sqrt(processes.Sum(p => p.Setting.Weight * Unresolved(p.Setting)));

    /// <summary>The datum of each epoch.</summary>
    public ImmutableArray<EpochOffset> EpochOffsets => datum.Offsets;

    /// <summary>Probability that something drifted during the capture; 0 when the times were ignored.</summary>
    public double DriftProbability => datum.DriftProbability;

    internal ImmutableArray<ISurfaceProcess> Processes => processes;

    /// <summary>By how much readings at a time were higher than at the first reading, mm. Outside the capture the nearest end's.</summary>
    public SurfaceEstimate Drift(double timeSeconds) => datum.DriftAt(timeSeconds);

    /// <summary>The bed's height at a place, mm. The uncertainty is that of the bed, fine structure included, not of another touch.</summary>
    public SurfaceEstimate Predict(double x, double y)
    {
        double scale = ScaleAt(x, y);
        return SurfaceEstimate.Mix(processes.Select(process =>
        {
            (double mean, double variance) = process.At(x, y);
            return (process.Setting.Weight, mean, (scale * variance) + Unresolved(process.Setting));
        }));
    }

    /// <summary>What a further touch at a place would read, mm, in the first epoch and without drift.</summary>
    public SurfaceEstimate PredictReading(double x, double y)
    {
        SurfaceEstimate bed = Predict(x, y);
        return bed with { StandardDeviation = Math.Sqrt((bed.StandardDeviation * bed.StandardDeviation) + (RepeatabilityMm * RepeatabilityMm)) };
    }

    /// <summary>The bed's height on a lattice with its uncertainty.</summary>
    /// <param name="xs">X of the columns, mm, rising.</param>
    /// <param name="ys">Y of the rows, mm, rising.</param>
    public UncertainMap PredictMap(ImmutableArray<double> xs, ImmutableArray<double> ys)
    {
        int count = xs.Length * ys.Length;
        double[] mean = new double[count], square = new double[count];
        double[] means = new double[count], variances = new double[count];
        double[] scales = Scales(xs, ys);
        foreach (ISurfaceProcess process in processes)
        {
            process.OnLattice(xs, ys, means, variances);
            double weight = process.Setting.Weight, unresolved = Unresolved(process.Setting);
            for (int k = 0; k < count; k++)
            {
                mean[k] += weight * means[k];
                square[k] += weight * ((scales[k] * variances[k]) + unresolved);
            }
        }

        if (processes.Length > 1)
        {
            AddDisagreement(xs, ys, mean, means, square);
        }

        return new UncertainMap(new SurfaceMap(xs, ys, [.. mean]), [.. square.Select(Math.Sqrt)]);
    }

    /// <summary>The bed's expected height on a lattice; quicker than <see cref="PredictMap"/> when the uncertainty is not wanted.</summary>
    /// <param name="xs">X of the columns, mm, rising.</param>
    /// <param name="ys">Y of the rows, mm, rising.</param>
    public SurfaceMap PredictHeights(ImmutableArray<double> xs, ImmutableArray<double> ys)
    {
        double[] mean = new double[xs.Length * ys.Length], means = new double[mean.Length];
        foreach (ISurfaceProcess process in processes)
        {
            process.OnLattice(xs, ys, means, null);
            for (int k = 0; k < mean.Length; k++)
            {
                mean[k] += process.Setting.Weight * means[k];
            }
        }

        return new SurfaceMap(xs, ys, [.. mean]);
    }

    /// <summary>
    /// Heights at places, each times its weight, added up, mm: a difference of two places, a mean over many. Unlike a sum over <see cref="Predict"/> its
    /// uncertainty counts that errors of near places go together. Datum and drift of a large grid, estimated beforehand, count at each place as if
    /// each had its own: too wide rather than too narrow.
    /// </summary>
    /// <param name="terms">At least one place with its weight.</param>
    public SurfaceEstimate WeightedSum(IReadOnlyList<WeightedPlace> terms)
    {
        ArgumentNullException.ThrowIfNull(terms);
        ArgumentOutOfRangeException.ThrowIfZero(terms.Count);
        double squares = terms.GroupBy(term => (term.X, term.Y)).Sum(place => Math.Pow(place.Sum(term => term.Weight), 2));
        WeightedPlace[] widened = [.. terms.Select(term => term with { Weight = term.Weight * Math.Sqrt(ScaleAt(term.X, term.Y)) })];
        (double X, double Y)[] places = [.. terms.Select(term => (term.X, term.Y))];
        return SurfaceEstimate.Mix(processes.Select(process => (
            process.Setting.Weight,
            terms.Sum(term => term.Weight * process.At(term.X, term.Y).Mean),
            Math.Max(0, process.CovariancesWith(widened, places).Select((covariance, k) => widened[k].Weight * covariance).Sum()) + (squares * Unresolved(process.Setting)))));
    }

    /// <summary>
    /// The map with all heights counted from one place, where it is 0 by definition, mm: what a machine that homes at that place makes of it. The
    /// uncertainty of each height is that of its difference from the place's.
    /// </summary>
    /// <param name="xs">X of the columns, mm, rising.</param>
    /// <param name="ys">Y of the rows, mm, rising.</param>
    /// <param name="from">The place from which heights count.</param>
    public UncertainMap PredictMapFrom(ImmutableArray<double> xs, ImmutableArray<double> ys, (double X, double Y) from)
    {
        int count = xs.Length * ys.Length;
        double[] mean = new double[count], second = new double[count], means = new double[count], variances = new double[count];
        double[] scales = Scales(xs, ys);
        double scaleFrom = ScaleAt(from.X, from.Y);
        (double X, double Y)[] places = [.. ys.SelectMany(y => xs.Select(x => (x, y)))];
        foreach (ISurfaceProcess process in processes)
        {
            process.OnLattice(xs, ys, means, variances);
            (double meanFrom, double varianceFrom) = process.At(from.X, from.Y);
            double[] shared = process.CovariancesWith([new WeightedPlace(from.X, from.Y, 1)], places);
            double weight = process.Setting.Weight, unresolved = 2 * Unresolved(process.Setting);
            for (int k = 0; k < count; k++)
            {
                double height = means[k] - meanFrom;
                double variance = (scales[k] * variances[k]) + (scaleFrom * varianceFrom) - (2 * Math.Sqrt(scales[k] * scaleFrom) * shared[k]);
                mean[k] += weight * height;
                second[k] += weight * (Math.Max(0, variance) + (places[k] == from ? 0 : unresolved) + (height * height));
            }
        }

        return new UncertainMap(
            new SurfaceMap(xs, ys, [.. mean]), [.. second.Select((square, k) => Math.Sqrt(Math.Max(0, square - (mean[k] * mean[k]))))]);
    }

    /// <summary>
    /// For each reading (each mean of neighbours when there are very many, each place of a large full grid): by how much it lies off what the others
    /// foretell, mm, and that difference's standard deviation. Large ratios point at bad touches or at structure that the model does not have.
    /// </summary>
    public ImmutableArray<SurfaceEstimate> LeaveOneOut()
    {
        (double Weight, (double[] Errors, double[] Variances) Left)[] parts = [.. processes.Select(p => (p.Setting.Weight, p.LeaveOneOut()))];
        return
        [
            .. Enumerable.Range(0, parts[0].Left.Errors.Length)
                .Select(i => SurfaceEstimate.Mix(parts.Select(p => (p.Weight, p.Left.Errors[i], p.Left.Variances[i])))),
        ];
    }

    /// <summary>Factor on the variance around a place, from how well each reading there was foretold by the others.</summary>
    internal double ScaleAt(double x, double y) => localScale?.At(x, y) ?? 1;

    /// <summary>Variance of the structure that one setting holds to be too fine to resolve, and of the datum where it was estimated beforehand.</summary>
    internal double Unresolved(HyperParameters setting) =>
        Math.Max(fineStructure * fineStructure, (setting.Noise * setting.Noise) - (RepeatabilityMm * RepeatabilityMm)) + datumVariance;

    private double[] Scales(ImmutableArray<double> xs, ImmutableArray<double> ys) =>
        [.. ys.SelectMany(y => xs.Select(x => ScaleAt(x, y)))];

    private void AddDisagreement(ImmutableArray<double> xs, ImmutableArray<double> ys, double[] mean, double[] means, double[] square)
    {
        foreach (ISurfaceProcess process in processes)
        {
            process.OnLattice(xs, ys, means, null);
            for (int k = 0; k < mean.Length; k++)
            {
                square[k] += process.Setting.Weight * (means[k] - mean[k]) * (means[k] - mean[k]);
            }
        }
    }
}
