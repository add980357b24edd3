using System.Globalization;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Watching;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Console.Screens.Running;

/// <summary>The steps of a run with state and time, the one in hand always in sight.</summary>
internal static class StepsPane
{
    /// <summary>Rows wanted for all steps and the progress line.</summary>
    public static int RowsFor(RunView view) => view.Steps.Length + 1;

    /// <summary>Draws them.</summary>
    /// <param name="canvas">The sheet.</param>
    /// <param name="area">Where.</param>
    /// <param name="view">The run.</param>
    /// <param name="speed">How much faster than the wall clock its clock goes; times left are told by the wall clock.</param>
    public static void Draw(CellCanvas canvas, Rect area, RunView view, double speed)
    {
        var (list, progress) = area.CutBottom(1);
        var first = Math.Clamp(view.Current - (list.Rows / 2), 0, Math.Max(0, view.Steps.Length - list.Rows));
        for (var row = 0; row < list.Rows && first + row < view.Steps.Length; row++)
        {
            var step = view.Steps[first + row];
            var (sign, ink) = Look(step);
            canvas.Put(list.Left, list.Top + row, sign, ink);
            var title = step.Step.Title;
            var time = Time(step, view, speed);
            canvas.Write(list.Left + 2, list.Top + row, CellText.Fit(title, list.Columns - 2 - (time.Length == 0 ? 0 : time.Length + 1)), step.State == StepState.Waiting ? Role.Quiet : ink);
            canvas.WriteLeftOf(list.Right, list.Top + row, time, Role.Quiet);
        }

        if (view.Steps.Length - first - list.Rows is > 0 and var more)
        {
            canvas.WriteLeftOf(list.Right, list.Bottom - 1, FormattableString.Invariant($" ↓{more} "), new Ink(Role.Accent, Role.Raised));
        }

        DrawProgress(canvas, progress, view, speed);
    }

    private static void DrawProgress(CellCanvas canvas, Rect line, RunView view, double speed)
    {
        var left = view.TimeLeft is { } time && view.Outcome is null ? $"~{Numbers.Time(time / speed)} left" : string.Empty;
        var percent = string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(view.Fraction * 100):0} % ");
        var after = canvas.Write(line.Left, line.Top, CellText.PadLeft(percent, 6), Ink.Bold(Role.Text));
        canvas.WriteLeftOf(line.Right, line.Top, left, Role.Quiet);
        var bar = Math.Max(0, line.Right - CellText.Cells(left) - 1 - after);
        canvas.Fill(new Rect(after, line.Top, bar, 1), new Ink(Role.Frame, Role.Ground), "·");
        Bars.Level(canvas, after, line.Top, bar, view.Fraction, Role.Accent);
    }

    private static (string Sign, Ink Ink) Look(StepView step) => (step.State, step.Verdict?.State) switch
    {
        (StepState.Running, _) => ("▶", Ink.Bold(Role.Accent)),
        (StepState.Done, VerdictWord.NotFit) => ("✗", Role.Bad),
        (StepState.Done, VerdictWord.Undecided) => ("?", Role.Warning),
        (StepState.Done, _) => ("✓", Role.Good),
        (StepState.LeftOut, _) => ("-", Role.Quiet),
        (StepState.CutOff, _) => ("!", Role.Bad),
        _ => ("·", Role.Quiet),
    };

    private static string Time(StepView step, RunView view, double speed) => step switch
    {
        { Took: { } took } => Numbers.Time(took / speed),
        { State: StepState.Running, Began: { } began } => Numbers.Time((view.At - began) / speed),
        _ => string.Empty,
    };
}
