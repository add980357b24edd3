using System.Collections.Immutable;
using System.Globalization;
using ProbeRunner.Metrology.Histories;
using ProbeRunner.Records.Histories;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Summaries;

/// <summary>A machine's history for a terminal: each quantity's values, then what changed. Plain text, every line printable.</summary>
public static class HistorySummary
{
    private const int Decimals = 4;

    /// <summary>The lines.</summary>
    public static ImmutableArray<string> Lines(MachineHistory history)
    {
        ArgumentNullException.ThrowIfNull(history);
        var lines = new List<string> { string.Create(CultureInfo.InvariantCulture, $"{history.Machine}: {history.Runs} runs") };
        foreach (QuantityHistory quantity in history.Quantities)
        {
            lines.Add(string.Empty);
            lines.Add(quantity.Name);
            lines.AddRange(quantity.Points.Select(point =>
                $"  {point.At.UtcDateTime.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture)}  {point.RunId}  {Figures.Signed(point.Value, Decimals)}"));
            lines.Add($"  {Said(quantity)}");
        }

        return [.. lines.Select(line => VisibleText.Of(line.Replace('\u00A0', ' ')))];
    }

    private static string Said(QuantityHistory quantity) => quantity.Change switch
    {
        { Kind: HistoryKind.Step } step =>
            $"A step of {Size(step)} from run {quantity.From?.RunId} on; confidence {Figures.Percent(1 - step.PValue)}.",
        { Kind: HistoryKind.Drift } drift =>
            $"A drift of {Size(drift)} from the first run to the last; confidence {Figures.Percent(1 - drift.PValue)}.",
        { Kind: HistoryKind.Steady } => "No step and no drift shown.",
        _ => string.Create(CultureInfo.InvariantCulture, $"{quantity.Points.Length} values; from five on a step or drift can be told."),
    };

    private static string Size(HistoryAnalysis change) =>
        $"{Figures.SignedMm(change.Size, Decimals)} ({Figures.Signed(change.Lower, Decimals)} to {Figures.Signed(change.Upper, Decimals)})";
}
