using System.Collections.Immutable;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>Offsets of the epochs and the drift, as the processes over scattered readings see them.</summary>
internal sealed class DatumAndDrift(Observations observed, ImmutableArray<ScatteredProcess> processes)
{
    public ImmutableArray<EpochOffset> Offsets =>
    [
        .. observed.Epochs.Select((epoch, k) => new EpochOffset(epoch, k == 0 ? default : SurfaceEstimate.Mix(processes.Select(process =>
        {
            (double mean, double variance) = process.Coefficient(observed.TrendTerms + k - 1);
            return (process.Setting.Weight, mean, variance);
        })))),
    ];

    /// <summary>Heights less the datum offset and the drift of each.</summary>
    public double[] TakenOff(IReadOnlyList<CaptureReading> readings)
    {
        var offsets = Offsets.ToDictionary(offset => offset.Epoch, offset => offset.Offset.Mean);
        return [.. readings.Select(r => r.Z - offsets[r.Epoch] - DriftAt(r.TimeSeconds).Mean)];
    }

    /// <summary>Mean over the readings of the variance of datum offset and drift.</summary>
    public double MeanVariance(IReadOnlyList<CaptureReading> readings)
    {
        if (processes.IsEmpty)
        {
            return 0;
        }

        var offsets = Offsets.ToDictionary(offset => offset.Epoch, offset => offset.Offset.StandardDeviation);
        int step = Math.Max(1, readings.Count / 50);
        return readings.Where((_, i) => i % step == 0)
            .Average(r => Math.Pow(offsets[r.Epoch], 2) + Math.Pow(DriftAt(r.TimeSeconds).StandardDeviation, 2));
    }

    public double DriftProbability => processes.Where(p => p.Setting.DriftRatio > 0).Sum(p => p.Setting.Weight);

    public SurfaceEstimate DriftAt(double timeSeconds)
    {
        if (processes.IsEmpty)
        {
            return default;
        }

        double time = Math.Clamp((timeSeconds - observed.FirstTime) / observed.Duration, 0, 1);
        return SurfaceEstimate.Mix(processes.Select(process =>
        {
            (double mean, double variance) = process.DriftAt(time);
            return (process.Setting.Weight, mean, variance);
        }));
    }
}
