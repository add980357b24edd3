using System.Collections.Immutable;
using ProbeRunner.Metrology.Histories;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Records.Histories;

/// <summary>One value of a quantity.</summary>
public sealed record HistoryPoint(string RunId, DateTimeOffset At, double Value);

/// <summary>A quantity over all runs of a machine.</summary>
/// <param name="Name">In words, with its unit.</param>
/// <param name="Key">For programs.</param>
/// <param name="Points">In the order of the runs; runs that have no such value left out.</param>
/// <param name="Change">A step, a drift, or neither.</param>
public sealed record QuantityHistory(string Name, string Key, ImmutableArray<HistoryPoint> Points, HistoryAnalysis Change)
{
    /// <summary>The run at which a step shows first; null for none.</summary>
    public HistoryPoint? From => Change.From is { } index ? Points[index] : null;
}

/// <summary>What a machine's runs found, over time.</summary>
/// <param name="Machine">Its name.</param>
/// <param name="Runs">How many runs were looked at.</param>
/// <param name="Quantities">Each quantity's values.</param>
public sealed record MachineHistory(string Machine, int Runs, ImmutableArray<QuantityHistory> Quantities)
{
    private static readonly (string Name, string Key, Func<RunRecord, double?> Value)[] Known =
    [
        ("Z offset, mm", "offsetMm", run => run.Conclusion<StepDownConclusion>()?.OffsetMm),
        ("scatter of the probe, mm", "sigmaMm", run => run.Conclusion<SeriesConclusion>()?.SigmaMm),
        ("tilt left to right, mm", "tiltXMm", run => run.Conclusion<CaptureConclusion>()?.TiltXMm),
        ("tilt front to back, mm", "tiltYMm", run => run.Conclusion<CaptureConclusion>()?.TiltYMm),
        ("flatness, mm", "flatnessMm", run => run.Conclusion<CaptureConclusion>()?.FlatnessMm),
    ];

    /// <summary>Whether a step or drift is shown in any of them.</summary>
    public bool HasChanged => Quantities.Any(quantity => quantity.Change.Kind is HistoryKind.Step or HistoryKind.Drift);

    /// <summary>Gathers them.</summary>
    /// <param name="machine">Its name.</param>
    /// <param name="runs">Its runs, in any order; those that found nothing count for nothing.</param>
    public static MachineHistory Of(string machine, IEnumerable<RunRecord> runs)
    {
        ArgumentNullException.ThrowIfNull(runs);
        var points = Known.Select(_ => new List<HistoryPoint>()).ToArray();
        int count = 0;
        foreach (RunRecord run in runs)
        {
            count++;
            for (int quantity = 0; quantity < Known.Length; quantity++)
            {
                if (Known[quantity].Value(run) is { } value)
                {
                    points[quantity].Add(new HistoryPoint(run.Header.RunId, run.Header.StartedAt, value));
                }
            }
        }

        return new MachineHistory(machine, count, [.. Known.Select((known, quantity) => Quantity(known.Name, known.Key, points[quantity]))]);
    }

    private static QuantityHistory Quantity(string name, string key, List<HistoryPoint> points)
    {
        ImmutableArray<HistoryPoint> ordered = [.. points.OrderBy(point => point.At)];
        return new QuantityHistory(name, key, ordered, HistoryAnalysis.Of([.. ordered.Select(point => point.Value)]));
    }
}
