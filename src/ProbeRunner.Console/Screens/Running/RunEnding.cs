using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Console.Screens.Running;

/// <summary>How a run ended, in a box that can't be overlooked.</summary>
internal static class RunEnding
{
    /// <summary>Whether the run is over.</summary>
    public static bool IsOver(IShownRun run) => !run.IsUnderWay || run.View.Outcome is not null;

    /// <summary>How many rows it wants at a width.</summary>
    public static int RowsFor(IShownRun run, int columns) => Build(run, columns - 4).Rows + 2;

    /// <summary>Draws it.</summary>
    public static void Draw(CellCanvas canvas, Rect area, IShownRun run)
    {
        var (word, role) = Word(run);
        canvas.Fill(area, Role.Text);
        Frames.Box(canvas, area, word, role, Ink.Bold(role));
        Build(run, area.Columns - 4).Draw(canvas, area.Inset(2, 1), new ScrollPosition());
    }

    /// <summary>How it ended, in a word or two.</summary>
    public static (string Word, Role Role) Word(IShownRun run) => (run.Failure, run.View.Outcome) switch
    {
        ({ }, _) => ("Could not go on", Role.Bad),
        (_, RunOutcome.Completed { Verdict.State: VerdictWord.Fit }) => ("Done: ✓ fit", Role.Good),
        (_, RunOutcome.Completed { Verdict.State: VerdictWord.NotFit }) => ("Done: ✗ not fit", Role.Bad),
        (_, RunOutcome.Completed) => ("Done: ? undecided", Role.Warning),
        (_, RunOutcome.Stopped) => ("■ Stopped", Role.Warning),
        (_, RunOutcome.Halted) => ("■ HALTED", Role.Bad),
        (_, RunOutcome.Faulted) => ("! Failed", Role.Bad),
        _ => ("Ended", Role.Text),
    };

    private static Page Build(IShownRun run, int columns)
    {
        var page = new Page(Math.Max(10, columns));
        if (run.View.Outcome is RunOutcome.Faulted { Alarm.Length: > 0 } faulted)
        {
            page.Paragraphs($"ALARM: {faulted.Alarm}", Ink.Alarm);
        }

        if (run.Failure is { } failure)
        {
            page.Paragraphs(failure.Message, Ink.Bold(Role.Text));
        }

        if (run.View.Outcome is { } outcome)
        {
            page.Paragraphs(outcome.Why, Ink.Bold(Role.Text));
            if (outcome.Verdict.Reason.Length > 0)
            {
                page.Paragraphs(outcome.Verdict.Reason, Role.Text);
            }
        }

        if (run.Ended is { } ended)
        {
            page.Paragraphs($"Kept as run {ended.RunId}. {(ended.Report is { } report ? $"Report: {report}" : "The report could not be written.")}", Role.Quiet);
            page.Paragraphs("Enter opens what it came to.", Role.Accent);
        }
        else if (run.IsUnderWay)
        {
            page.Paragraphs("Writing the report …", Role.Quiet);
        }
        else
        {
            page.Paragraphs("Esc goes back to the start.", Role.Accent);
        }

        return page;
    }
}
