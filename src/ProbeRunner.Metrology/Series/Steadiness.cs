using System.Globalization;
using ProbeRunner.Metrology.Verdicts;

namespace ProbeRunner.Metrology.Series;

/// <summary>
/// Whether a series stood still while it was judged. A verdict on scatter assumes one unchanging height: readings that drift or warm up
/// by more than the good limit are not judged fit, nor blamed on the probe when only the drift made them scatter.
/// </summary>
/// <param name="Trouble">The surest drift or warm-up that is large enough to matter; null when the series stood still.</param>
public sealed record Steadiness(SeriesDefect? Trouble)
{
    /// <summary>p-value below which a movement is believed.</summary>
    public const double Significance = 0.01;

    /// <summary>Looks for drift (Mann-Kendall, size by Sen's slope) and for first touches that differ.</summary>
    /// <param name="readings">mm, in the order taken.</param>
    /// <param name="matteringMm">Movement over the series that matters, mm: the good limit of sigma.</param>
    public static Steadiness Of(IReadOnlyList<double> readings, double matteringMm)
    {
        ArgumentNullException.ThrowIfNull(readings);
        var troubles = new List<SeriesDefect>();
        if (MannKendall.Of(readings).OrElse(null) is { } drift)
        {
            double change = drift.SenSlope * (readings.Count - 1);
            troubles.Add(new(SeriesDefectKind.Drift, change, drift.PValue, string.Create(
                CultureInfo.InvariantCulture, $"The readings drift by {change:+0.0000;-0.0000} mm along the series ({Chance(drift.PValue)}).")));
        }

        if (WarmUp.Of(readings).OrElse(null) is { } warm)
        {
            troubles.Add(new(SeriesDefectKind.WarmUp, warm.Shift, warm.PValue, string.Create(
                CultureInfo.InvariantCulture, $"The first {warm.Touches} readings differ from the rest by {warm.Shift:+0.0000;-0.0000} mm ({Chance(warm.PValue)}).")));
        }

        return new(troubles.Where(one => one.PValue < Significance && Math.Abs(one.Size) > matteringMm).MinBy(one => one.PValue));
    }

    /// <summary>
    /// The verdict with the movement taken into account: unsteady readings leave it undecided, unless they scatter too much even about their
    /// own straight line.
    /// </summary>
    public SeriesVerdict Temper(SeriesVerdict verdict, IReadOnlyList<double> readings, SequentialSigmaTest test)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        ArgumentNullException.ThrowIfNull(test);
        if (Trouble is not { } trouble || verdict.State == VerdictState.Undecided)
        {
            return verdict;
        }

        bool scattersAnyway = verdict.State == VerdictState.NotFit && test.Judge(Levelled(readings)).State == VerdictState.NotFit;
        return scattersAnyway
            ? verdict with { Reason = $"{verdict.Reason} {trouble.Text}" }
            : verdict with
            {
                State = VerdictState.Undecided,
                Confidence = 0.5,
                Reason = $"{trouble.Text} While something moves, scatter can't be judged: let the machine settle, then take the series again.",
            };
    }

    private static string Chance(double p) => p < 0.0001 ? "p < 0.0001" : string.Create(CultureInfo.InvariantCulture, $"p = {p:0.0000}");

    private static double[] Levelled(IReadOnlyList<double> readings) => Series.Trend.Of(readings).OrElse(null) is { } trend
        ? [.. readings.Select((reading, ordinal) => reading - (trend.SlopePerUnit * ordinal))]
        : [.. readings];
}
