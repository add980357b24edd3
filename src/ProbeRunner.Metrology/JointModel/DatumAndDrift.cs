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

    public double DriftProbability => processes.Where(p => p.Setting.DriftRatio > 0).Sum(p => p.Setting.Weight);

    public SurfaceEstimate DriftAt(double timeSeconds)
    {
        double time = Math.Clamp((timeSeconds - observed.FirstTime) / observed.Duration, 0, 1);
        return SurfaceEstimate.Mix(processes.Select(process =>
        {
            (double mean, double variance) = process.DriftAt(time);
            return (process.Setting.Weight, mean, variance);
        }));
    }
}
