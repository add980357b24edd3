using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Reports;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Summaries;

/// <summary>Runs in few words for a terminal: one line each in a list, a screenful for one. Plain text, every line printable.</summary>
public static class RunSummary
{
    /// <summary>A list of runs as aligned lines, a header first.</summary>
    public static ImmutableArray<string> Table(IEnumerable<RunListing> runs)
    {
        ArgumentNullException.ThrowIfNull(runs);
        string[][] rows =
        [
            ["run", "started (UTC)", "machine", "script", "state", "took", "verdict"],
            .. runs.Select(run => new[]
            {
                run.RunId,
                run.State == RunState.Damaged ? "-" : run.StartedAt.UtcDateTime.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture),
                run.MachineName,
                run.ScriptName,
                Word(run.State),
                Figures.Duration(run.LastAt).Replace('\u00A0', ' '),
                run.Outcome is { } outcome ? $"{Ending(outcome)}{Verdicts.Word(outcome.Verdict.State).ToLowerInvariant()}" : "-",
            }.Select(VisibleText.Of).ToArray()),
        ];
        return Aligned(rows);
    }

    /// <summary>One run in one line.</summary>
    public static string Line(RunListing run)
    {
        ArgumentNullException.ThrowIfNull(run);
        string verdict = run.Outcome is { } outcome ? $": {Ending(outcome)}{Verdicts.Sentence(outcome.Verdict)}" : string.Empty;
        return VisibleText.Of($"{run.RunId}  {run.ScriptName} on {run.MachineName}, {Word(run.State)}{verdict}");
    }

    /// <summary>One run in a screenful: verdict, numbers, steps, findings.</summary>
    public static ImmutableArray<string> Show(RunRecord run)
    {
        ArgumentNullException.ThrowIfNull(run);
        List<string> lines =
        [
            $"Run {run.Header.RunId}: {run.Header.ScriptName} on {run.Header.MachineName}, {Word(run.State)}",
            $"Started {Figures.Moment(run.Header.StartedAt)}, took {Figures.Duration(run.Duration)}",
            Verdicts.Sentence(Verdicts.Of(run)),
        ];
        if (run.Outcome is RunOutcome.Faulted { Alarm.Length: > 0 } faulted)
        {
            lines.Insert(0, $"ALARM: {faulted.Alarm}");
        }

        if (run.Outcome is not null)
        {
            lines.Add(Verdicts.Ending(run));
        }

        lines.Add(string.Empty);
        lines.AddRange(Numbers(run));
        lines.Add(string.Empty);
        lines.AddRange(Aligned([["step", "readings", "verdict"], .. run.Steps.Select(Step)]));
        ImmutableArray<Finding> findings = Verdicts.Findings(run);
        if (!findings.IsEmpty)
        {
            lines.Add(string.Empty);
            lines.Add("What to do next:");
            lines.AddRange(findings.Select((finding, index) =>
                string.Create(CultureInfo.InvariantCulture, $"{index + 1}. {finding.Title} {finding.Next}")));
        }

        return [.. lines.Select(line => VisibleText.Of(line.Replace('\u00A0', ' ')))];
    }

    /// <summary>A word for a state.</summary>
    public static string Word(RunState state) => state switch
    {
        RunState.Running => "running",
        RunState.Ended => "ended",
        RunState.Interrupted => "interrupted",
        _ => "damaged",
    };

    private static string Ending(RunOutcome outcome) => outcome switch
    {
        RunOutcome.Stopped => "stopped, ",
        RunOutcome.Halted => "halted, ",
        RunOutcome.Faulted => "failed, ",
        _ => string.Empty,
    };

    private static IEnumerable<string> Numbers(RunRecord run)
    {
        if (run.Conclusion<StepDownConclusion>() is { } stepDown)
        {
            yield return $"Z offset             {Figures.SignedMm(stepDown.OffsetMm)} ± {Figures.Mm(2 * stepDown.StandardUncertaintyMm)} (k = 2)";
        }

        if (run.Conclusion<SeriesConclusion>() is { } series)
        {
            yield return $"probe repeatability  {Figures.Mm(series.SigmaMm, 4)} ({Figures.Number(series.SigmaLowerMm, 4)} to {Figures.Mm(series.SigmaUpperMm, 4)} at {Figures.Percent(series.SigmaConfidence)})";
        }

        if (run.Conclusion<CaptureConclusion>() is { } capture)
        {
            yield return $"bed flatness         {Figures.Mm(capture.FlatnessMm)}, tilt {Figures.SignedMm(capture.TiltXMm)} left to right, {Figures.SignedMm(capture.TiltYMm)} front to back";
        }

        if (run.Conclusion<MeshConclusion>() is { } mesh)
        {
            yield return $"left after the mesh  {Figures.Mm(mesh.ResidualRmsMm)} rms, {Figures.Mm(mesh.ResidualWorstMm)} at worst";
        }
    }

    private static string[] Step(StepRecord step) =>
    [
        string.Create(CultureInfo.InvariantCulture, $"{step.Index + 1,2}/{step.Of} {step.Title}"),
        step.Readings.Count(item => !item.Voided).ToString(CultureInfo.InvariantCulture),
        step.Conclusion is { } conclusion ? Verdicts.Sentence(conclusion.Verdict) : step.EndedAt is null ? "did not end" : "-",
    ];

    private static ImmutableArray<string> Aligned(string[][] rows)
    {
        int[] widths = [.. Enumerable.Range(0, rows[0].Length).Select(column => rows.Max(row => row[column].Length))];
        return
        [
            .. rows.Select(row =>
            {
                var line = new StringBuilder();
                for (int column = 0; column < row.Length; column++)
                {
                    line.Append(column + 1 < row.Length ? row[column].PadRight(widths[column] + 2) : row[column]);
                }

                return line.ToString().TrimEnd();
            }),
        ];
    }
}
