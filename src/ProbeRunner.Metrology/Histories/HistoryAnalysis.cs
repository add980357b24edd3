using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Histories;

/// <summary>What a history shows.</summary>
public enum HistoryKind
{
    /// <summary>Too few values to tell.</summary>
    TooFew,

    /// <summary>Nothing is shown.</summary>
    Steady,

    /// <summary>One level, then another.</summary>
    Step,

    /// <summary>A rise or fall all along.</summary>
    Drift,
}

/// <summary>A quantity over a machine's runs: a step, a drift, or neither.</summary>
/// <param name="Kind">What it shows.</param>
/// <param name="From">For a step: index of the first value of the new level.</param>
/// <param name="Size">Of the step, or of the drift from the first value to the last; 0 for neither.</param>
/// <param name="Lower">Lower 95 % limit of it.</param>
/// <param name="Upper">Upper limit.</param>
/// <param name="PValue">Of so large a step or drift in a steady history; 1 for too few values.</param>
public sealed record HistoryAnalysis(HistoryKind Kind, int? From, double Size, double Lower, double Upper, double PValue)
{
    /// <summary>p-value below which a change is believed: several quantities are looked at each time.</summary>
    public const double Significance = 0.01;

    /// <summary>Looks for a step (<see cref="ChangePoint"/>) and a drift (Mann-Kendall); of both, the one that leaves less is named.</summary>
    /// <param name="values">In the order of the runs.</param>
    public static HistoryAnalysis Of(IReadOnlyList<double> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        if (ChangePoint.Of(values) is not Known<ChangePoint> { Content: var step } || MannKendall.Of(values) is not Known<MannKendall> { Content: var drift })
        {
            return new HistoryAnalysis(ChangePoint.Of(values).Refusal?.Kind == RefusalKind.Constant ? HistoryKind.Steady : HistoryKind.TooFew, null, 0, 0, 0, 1);
        }

        bool steps = step.PValue < Significance, drifts = drift.PValue < Significance;
        if (steps && (!drifts || step.ResidualSquares <= AboutLine(values)))
        {
            return new HistoryAnalysis(HistoryKind.Step, step.First, step.Size, step.Lower, step.Upper, step.PValue);
        }

        int intervals = values.Count - 1;
        return drifts
            ? new HistoryAnalysis(HistoryKind.Drift, null, drift.SenSlope * intervals, drift.SenLower * intervals, drift.SenUpper * intervals, drift.PValue)
            : new HistoryAnalysis(HistoryKind.Steady, null, 0, 0, 0, Math.Min(step.PValue, drift.PValue));
    }

    private static double AboutLine(IReadOnlyList<double> values) => Trend.Of(values).OrElse(null)?.ResidualStandardDeviation is { } residual
        ? residual * residual * (values.Count - 2)
        : double.PositiveInfinity;
}
