using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Guide;
using ProbeRunner.Console.Screens.Keys;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Console.Screens.Shell;

namespace ProbeRunner.Console.Screens.Running;

/// <summary>A run as it goes on: its steps, the picture of the step in hand, the machine, and whatever the person is asked.</summary>
internal sealed class RunScreen : Screen
{
    private readonly Desk desk;
    private readonly IShownRun run;
    private readonly Action openResults;
    private readonly QuestionPane question;
    private readonly LogPane messages = new();
    private readonly MapReader map = new();
    private List<LogLine> lines = [];
    private bool explainsStep;
    private bool wasHeld;
    private bool wasOver;
    private Rect pictureRoom;

    /// <summary>Shows a run.</summary>
    /// <param name="desk">The desk it lies on.</param>
    /// <param name="run">The run.</param>
    /// <param name="openResults">Opens what it came to.</param>
    public RunScreen(Desk desk, IShownRun run, Action openResults)
    {
        (this.desk, this.run, this.openResults) = (desk, run, openResults);
        question = new QuestionPane(desk.Time, text => desk.Tell(text, Role.Warning));
        question.Show(run.Question);
        run.Changed += TakeOver;
    }

    /// <inheritdoc />
    public override string Title => run.Order.Title;

    /// <inheritdoc />
    public override string Explanation =>
        "On the left the steps with what became of them, and the machine as it is now. On the right the picture of the step in hand; below it the question that waits for you, or the newest messages. "
        + (run.CanAnswerItself ? "The printer is simulated: what your hands would feel or your eyes see is marked at the answers.\n" : "\n")
        + (run.View.Step is { } step ? $"This step: {step.Step.Title}. {step.Step.Purpose} {step.Step.WhatGoodLooksLike}" : string.Empty);

    /// <inheritdoc />
    public override string? WhyStay => run.IsUnderWay ? "The run is under way here. F5 holds it, F7 stops it; then Esc goes back." : null;

    /// <inheritdoc />
    public override bool TakesText => question.TakesText;

    /// <inheritdoc />
    public override IEnumerable<KeyEntry> Keys
    {
        get
        {
            foreach (var key in question.Keys)
            {
                yield return key;
            }

            if (!run.IsUnderWay)
            {
                yield return KeyEntry.Of("findings", "Opens what the run came to.", openResults, Stroke.Enter, 'o') with { WhyNot = run.Ended is null ? "The run never began, so there is nothing to open." : null };
            }

            if (run.CanAnswerItself && run.IsUnderWay)
            {
                yield return KeyEntry.Of(
                    run.AnswersItself ? "answer myself" : "auto-answer",
                    "At the simulated printer: lets the simulated person answer from now on, or takes that back.",
                    () => run.AnswersItself = !run.AnswersItself,
                    'a');
            }

            yield return KeyEntry.Of("this step", "Says why this step is done and what good looks like.", () => explainsStep = !explainsStep, 's', Stroke.Function(3)) with
            {
                WhyNot = run.View.Step is null ? "No step has begun yet." : null,
            };
            yield return KeyEntry.Of("messages", "Shows everything the run has told.", () => desk.Open(new MessagesScreen(run)), 'm');
            yield return KeyEntry.Of("wire", "Shows what goes over the wire, with search and filter.", () => desk.Open(new WireScreen(desk, () => run.Wire)), 't');

            if (question.Question is null && run.View.Picture is MapState)
            {
                foreach (var key in map.Keys)
                {
                    yield return key;
                }
            }
        }
    }

    /// <inheritdoc />
    public override bool Type(Stroke stroke) => question.Type(stroke);

    /// <inheritdoc />
    public override void Paste(string text) => question.Paste(text);

    /// <inheritdoc />
    public override void Wheel(int rows) => messages.Move(rows, lines);

    /// <inheritdoc />
    public override void Click(int column, int row)
    {
        if (!question.Click(column, row) && !explainsStep && pictureRoom.Contains(column, row))
        {
            map.Click(pictureRoom, column, row);
        }
    }

    /// <inheritdoc />
    public override void Leave() => run.Changed -= TakeOver;

    /// <inheritdoc />
    public override void Draw(CellCanvas canvas, Palette palette)
    {
        var (left, right) = canvas.Area.CutLeft(Math.Clamp(canvas.Columns * 33 / 100, 28, 40));
        DrawLeft(canvas, left, palette);
        canvas.Fill(new Rect(right.Left, right.Top, 1, right.Rows), Role.Frame, "│");
        right = new Rect(right.Left + 2, right.Top, right.Columns - 3, right.Rows);
        lines = MessagesScreen.LinesOf(run.View, run.Speed, right.Columns);
        var below = Math.Clamp(BelowRows(right.Columns), 4, right.Rows - 6);
        var (picture, bottom) = right.CutBottom(below);
        DrawPicture(canvas, run.Order.IsFirstVisit ? DrawHint(canvas, picture) : picture, palette);
        DrawBelow(canvas, bottom);
    }

    private Rect DrawHint(CellCanvas canvas, Rect area)
    {
        var hint = CellText.Wrap(Coach.Hint(run), area.Columns - 2);
        var (head, rest) = area.CutTop(Math.Min(hint.Count, 3));
        canvas.Fill(head, new Ink(Role.Accent, Role.Raised));
        for (var row = 0; row < head.Rows; row++)
        {
            canvas.Write(head.Left + 1, head.Top + row, hint[row], new Ink(Role.Accent, Role.Raised));
        }

        return rest;
    }

    private int BelowRows(int columns) => question.Question is not null ? question.RowsFor(columns)
        : RunEnding.IsOver(run) ? RunEnding.RowsFor(run, columns)
        : 6;

    private void DrawLeft(CellCanvas canvas, Rect area, Palette palette)
    {
        var machineRows = Math.Min(8, area.Rows / 3 + 1);
        var (steps, machine) = area.CutBottom(machineRows);
        var room = Box.Pane(canvas, steps, "Steps");
        StepsPane.Draw(canvas, new Rect(room.Left + 1, room.Top, room.Columns - 2, Math.Min(room.Rows, StepsPane.RowsFor(run.View))), run.View, run.Speed);
        var place = Box.Pane(canvas, machine, run.IsUnderWay ? "Machine" : "Machine, as last seen");
        if (run.Machine is { } known)
        {
            MachinePane.Draw(canvas, new Rect(place.Left + 1, place.Top, place.Columns - 2, place.Rows), known with { IsLeft = !run.IsUnderWay, HidesHeight = run.View.Picture is StepDownState { IsAsking: true } });
        }
        else
        {
            canvas.Write(place.Left + 1, place.Top, run.IsUnderWay ? "being connected …" : "not connected", Role.Quiet);
        }
    }

    private void DrawPicture(CellCanvas canvas, Rect area, Palette palette)
    {
        var view = run.View;
        if (view.Step is not { } step)
        {
            canvas.Write(area.Left, area.Top + 1, CellText.Fit(run.IsUnderWay ? $"Connecting to {run.Order.Machine}. Nothing moves yet." : string.Empty, area.Columns), Role.Quiet);
            return;
        }

        var title = FormattableString.Invariant($"{view.Current + 1}/{view.Steps.Length} {step.Step.Title}");
        var room = Box.Pane(canvas, area, title);
        pictureRoom = room;
        if (view.Picture is { } picture && !explainsStep)
        {
            Picture.Draw(canvas, room, map.Over(picture), palette);
            return;
        }

        var page = new Page(room.Columns - 2);
        page.Gap();
        page.Entry("Why", step.Step.Purpose, Ink.Bold(Role.Accent));
        page.Gap();
        page.Entry("Good", step.Step.WhatGoodLooksLike, Ink.Bold(Role.Good));
        page.Draw(canvas, new Rect(room.Left + 1, room.Top, room.Columns - 2, room.Rows), new ScrollPosition());
    }

    private void DrawBelow(CellCanvas canvas, Rect area)
    {
        if (question.Question is not null)
        {
            question.Draw(canvas, area);
        }
        else if (RunEnding.IsOver(run))
        {
            RunEnding.Draw(canvas, area, run);
        }
        else
        {
            messages.Draw(canvas, Box.Pane(canvas, area, run.IsHeld ? "Held: F5 goes on, F7 stops" : "Messages", run.IsHeld), lines);
        }
    }

    private void TakeOver()
    {
        var isOver = RunEnding.IsOver(run);
        if (run.IsHeld != wasHeld || isOver != wasOver)
        {
            (wasHeld, wasOver) = (run.IsHeld, isOver);
            if (desk.Notice?.Role != Role.Bad) // what is said of a halt stays
            {
                desk.Forget(); // what was asked for has come about
            }
        }

        var isNew = run.Question is not null && !ReferenceEquals(run.Question, question.Question);
        question.Show(run.Question);
        if (isNew && desk.Front != this && !desk.Front.TakesText)
        {
            desk.Tell("The machine asks something: Esc goes back to it.", Role.Warning);
        }

        desk.Redraw();
    }
}
