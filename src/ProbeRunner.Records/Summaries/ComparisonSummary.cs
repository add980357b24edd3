using System.Collections.Immutable;
using ProbeRunner.Metrology.CaptureComparison;
using ProbeRunner.Records.Comparisons;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Summaries;

/// <summary>A comparison of two runs for a terminal. Plain text, every line printable.</summary>
public static class ComparisonSummary
{
    /// <summary>The lines.</summary>
    public static ImmutableArray<string> Lines(RunComparison comparison)
    {
        ArgumentNullException.ThrowIfNull(comparison);
        var lines = new List<string> { $"{comparison.Earlier} (then) and {comparison.Later} (now); 95 % intervals" };
        if (comparison.Offset is { } offset)
        {
            lines.Add($"Z offset    {Figures.SignedMm(offset.Then)} then, {Figures.SignedMm(offset.Now)} now: {Figures.Signed(offset.Change, 3)} ({Figures.Signed(offset.Lower, 3)} to {Figures.SignedMm(offset.Upper)}), {Word(offset.Matters)}");
        }

        if (comparison.Probe is { } probe)
        {
            lines.Add($"probe       scatter {Figures.Mm(probe.Then, 4)} then, {Figures.Mm(probe.Now, 4)} now: {Figures.Number(probe.Change, 2)} times ({Figures.Number(probe.Lower, 2)} to {Figures.Number(probe.Upper, 2)}), {Word(probe.Matters)}");
        }

        if (comparison.Bed is { } bed)
        {
            lines.Add($"bed         then {comparison.ConditionsThen}; now {comparison.ConditionsNow}");
            lines.AddRange(bed.Terms.Concat(bed.Corners).Append(bed.Local).Select(change =>
                $"  {change.Name,-22} {Figures.Signed(change.ChangeMm, 3)} ({Figures.Signed(change.LowerMm, 3)} to {Figures.SignedMm(change.UpperMm)}), {Word(change.Matters)}"));
        }

        lines.AddRange(comparison.Missing.Select(missing => $"Not compared: {missing}"));
        lines.Add(comparison.Matters switch
        {
            Mattering.Yes => "Something changed that matters.",
            Mattering.Open => "Whether a change matters stays open; more readings would tell.",
            _ => "Nothing changed that matters.",
        });
        return [.. lines.Select(line => VisibleText.Of(line.Replace('\u00A0', ' ')))];
    }

    /// <summary>Whether a change matters, in a word or two.</summary>
    internal static string Word(Mattering matters) => matters switch
    {
        Mattering.Yes => "matters",
        Mattering.Open => "may matter",
        _ => "does not matter",
    };
}
