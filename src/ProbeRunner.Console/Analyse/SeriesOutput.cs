using ProbeRunner.Console.Analyse.Results;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;
using ProbeRunner.Metrology.Verdicts;

namespace ProbeRunner.Console.Analyse;

/// <summary>Writes what was found out about a series, for programs or for people. What the readings can't answer is null or left out.</summary>
internal static class SeriesOutput
{
    /// <summary>One JSON object.</summary>
    public static void WriteJson(TextWriter output, SeriesAnalysis analysis) => JsonOutput.Write(output, new
    {
        analysis.Summary.Count,
        analysis.Summary.Mean,
        analysis.Summary.Median,
        analysis.Summary.StandardDeviation,
        analysis.Summary.Range,
        analysis.Summary.Lag1Autocorrelation,
        SigmaInterval = new { analysis.SigmaInterval.Confidence, analysis.SigmaInterval.Lower, analysis.SigmaInterval.Upper },
        Outliers = OutliersOf(analysis),
        Trend = new
        {
            SlopePerReading = analysis.Trend.OrElse(null)?.SlopePerUnit,
            MannKendallS = analysis.MannKendall.OrElse(null)?.S,
            analysis.MannKendall.OrElse(null)?.PValue,
        },
        Normality = analysis.Normality.OrElse(null) is { } normality ? new { normality.AndersonDarling, normality.PValue } : null,
        Capability = analysis.Capability?.OrElse(null) is { } capability ? new { capability.Cg, capability.Cgk } : null,
        Verdict = new { State = WordOf(analysis.Verdict.State), analysis.Verdict.Confidence, analysis.Verdict.Reason },
    });

    /// <summary>Tables, the verdict first.</summary>
    public static void WriteText(TextWriter output, string name, SeriesAnalysis analysis)
    {
        SeriesVerdict verdict = analysis.Verdict;
        output.WriteLine(FormattableString.Invariant($"{name}: {analysis.Summary.Count} readings"));
        output.WriteLine($"Verdict: {InWords(verdict.State)}, confidence {Figure.Percent(verdict.Confidence)}. {verdict.Reason}");
        if (verdict.ReadingsStillNeeded > 0)
        {
            output.WriteLine(FormattableString.Invariant($"About {verdict.ReadingsStillNeeded} more readings would decide."));
        }

        WriteFigures(output, analysis);
        if (analysis.Capability is { } capability)
        {
            WriteCapability(output, capability);
        }

        output.WriteLine(analysis.Defects.Count == 0 ? "Nothing else shows in these readings." : "What shows in these readings, the surest first:");
        foreach (SeriesDefect defect in analysis.Defects)
        {
            output.WriteLine($"  {defect.Text} ({Figure.Chance(defect.PValue)})");
        }
    }

    private static void WriteFigures(TextWriter output, SeriesAnalysis analysis)
    {
        SeriesSummary summary = analysis.Summary;
        SigmaInterval interval = analysis.SigmaInterval;
        var table = new TextTable();
        table.Add("mean", summary.Mean, "mm");
        table.Add("median", summary.Median, "mm");
        table.Add(
            "standard deviation",
            $"{Figure.Of(summary.StandardDeviation)} mm ({Figure.Percent(interval.Confidence)} interval {Figure.Of(interval.Lower)} to {Figure.Of(interval.Upper)})");
        table.Add("range", summary.Range, "mm");
        table.Add("lag-1 autocorrelation", summary.Lag1Autocorrelation);
        int[] outliers = OutliersOf(analysis);
        table.Add("outliers", outliers.Length == 0 ? "none" : "readings " + string.Join(", ", outliers.Select(index => Figure.Of(index + 1))));
        if (analysis.Trend.OrElse(null) is { } trend)
        {
            table.Add("trend", trend.SlopePerUnit, "mm per reading");
        }

        table.Write(output);
    }

    private static void WriteCapability(TextWriter output, Answer<Capability> capability) => output.WriteLine(capability.OrElse(null) is { } study
        ? $"Capability: Cg {Figure.Of(study.Cg)}, Cgk {Figure.Of(study.Cgk)}; {Figure.Of(study.Constants.Limit)} is asked for: {(study.Passes ? "passed" : "not passed")}."
        : $"Capability: refused. {capability.Refusal!.Message}");

    private static int[] OutliersOf(SeriesAnalysis analysis) => [.. (analysis.Outliers.OrElse(null)?.Indices ?? []).Order()];

    private static string WordOf(VerdictState state) => state switch
    {
        VerdictState.Fit => "fit",
        VerdictState.NotFit => "notFit",
        _ => "undecided",
    };

    private static string InWords(VerdictState state) => state switch
    {
        VerdictState.Fit => "fit",
        VerdictState.NotFit => "not fit",
        _ => "undecided",
    };
}
