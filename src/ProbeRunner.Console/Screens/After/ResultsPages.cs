using System.Globalization;
using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures.Charts;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Console.Screens.After;

/// <summary>The pages of results that are text.</summary>
internal static class ResultsPages
{
    /// <summary>Which run it was and what it came to, in one line.</summary>
    public static void DrawHead(CellCanvas canvas, Rect line, RunRecord record)
    {
        var header = record.Header;
        var verdict = record.Outcome?.Verdict.State;
        var ending = record.Outcome switch
        {
            RunOutcome.Completed => string.Empty,
            RunOutcome.Stopped => "stopped, ",
            RunOutcome.Halted => "halted, ",
            RunOutcome.Faulted => "failed, ",
            _ => "not ended, ",
        };
        var word = ending + (verdict is { } state ? $"{VerdictWords.Sign(state)} {VerdictWords.Of(state)}" : "? undecided");
        var role = verdict switch { VerdictWord.Fit => Role.Good, VerdictWord.NotFit => Role.Bad, _ => Role.Warning };
        var after = canvas.Write(line.Left, line.Top, word, Ink.Bold(role));
        var reason = record.Outcome is { } outcome ? outcome.Verdict.Reason : "The run has no outcome yet.";
        var started = header.StartedAt.ToLocalTime().ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
        canvas.WriteLeftOf(line.Right, line.Top, started, Role.Quiet);
        canvas.Write(after + 2, line.Top, CellText.Fit($"{header.ScriptName} on {header.MachineName}. {reason}", line.Right - after - started.Length - 4), Role.Text);
    }

    /// <summary>Every step with its judgement.</summary>
    public static Page Steps(RunRecord record, int columns)
    {
        var page = new Page(columns);
        foreach (var step in record.Steps)
        {
            var readings = step.Readings.Count(reading => !reading.Voided);
            var took = step.EndedAt is { } ended ? Numbers.Time(ended - step.StartedAt) : "did not end";
            page.Line($"{step.Index + 1,2}  {step.Title}   {took}{(readings > 0 ? FormattableString.Invariant($", {readings} {(readings == 1 ? "reading" : "readings")}") : string.Empty)}", Ink.Bold(Role.Text));
            if (step.Conclusion is { } conclusion)
            {
                var verdict = conclusion.Verdict;
                var role = verdict.State switch { VerdictWord.Fit => Role.Good, VerdictWord.NotFit => Role.Bad, _ => Role.Warning };
                page.Paragraphs($"{VerdictWords.Sign(verdict.State)} {VerdictWords.Of(verdict.State)}: {verdict.Reason}", role, indent: 4);
            }
        }

        foreach (var interruption in record.Interruptions)
        {
            page.Paragraphs($"{Numbers.Time(interruption.At)}  {interruption.Interruption.What}: {interruption.Interruption.Why}", Role.Warning);
        }

        return page;
    }

    /// <summary>What was changed in the controller, before and after.</summary>
    public static Page Settings(RunRecord record, int columns)
    {
        var page = new Page(columns);
        if (record.Changes.IsEmpty)
        {
            page.Line("The run changed no setting of the controller.", Role.Text);
        }

        foreach (var change in record.Changes)
        {
            page.Line(change.Change.Setting, Ink.Bold(Role.Text));
            page.Entry("  before", change.Change.Before, Role.Quiet);
            page.Entry("  after", change.Change.After, Ink.Bold(Role.Accent));
        }

        if (record.Conclusion<SettingsConclusion>() is { StartCodeLine.Length: > 0 } stored)
        {
            page.Gap();
            page.Paragraphs("Add this line to your slicer's start code, so that the stored mesh is used while printing:", Role.Text);
            page.Line(stored.StartCodeLine, Ink.Bold(Role.Accent), 2);
        }

        if (record.Conclusion<PreflightConclusion>() is not null)
        {
            page.Gap();
            page.Paragraphs($"Settings as the run found them can be put back: proberunner restore {record.Header.RunId} --port PORT", Role.Quiet);
        }

        return page;
    }
}
