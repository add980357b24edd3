using ProbeRunner.Console.Operators;
using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Screens.Running;

/// <summary>
/// A question to the person with its answers as big keys. A confirmation after which the machine moves takes no key in its first moments,
/// so that a key meant for the question before, or one held down, can't set anything going.
/// </summary>
internal sealed class QuestionPane(TimeProvider time, Action<string> tell)
{
    private static readonly TimeSpan Settling = TimeSpan.FromMilliseconds(300);

    /// <summary>What a simulated bench lets feel or see, the longest that leaves the answer whole.</summary>
    private static readonly string[] Hints = [" so it looks or feels here", " ◀ so it is here", " ◀ here", " ◀"];

    private readonly ListCursor cursor = new();
    private AskedQuestion? question;
    private TextField field = new();
    private bool showsWhy;
    private Rect answersRoom;

    /// <summary>The question; null for none.</summary>
    public AskedQuestion? Question => question;

    /// <summary>Whether a number or text is being typed.</summary>
    public bool TakesText => question?.Prompt.Kind is PromptKind.Number or PromptKind.Text;

    /// <summary>Keys for the question.</summary>
    public IEnumerable<KeyEntry> Keys
    {
        get
        {
            if (question is null)
            {
                yield break;
            }

            var prompt = question.Prompt;
            if (prompt.Kind == PromptKind.Choice)
            {
                yield return KeyEntry.UpDown("choose", "Chooses an answer.", by => cursor.Move(by, prompt.Choices.Length));
                yield return new KeyEntry(
                    [.. prompt.Choices.Select((_, index) => (Stroke)(char)('1' + index))], "answer", "Gives the answer of that number at once.", stroke => Give(prompt.Choices[stroke.Name[0] - '1'].Word))
                {
                    InFooter = false,
                    IsCommand = false,
                };
            }

            yield return KeyEntry.Of(
                prompt.HandsClear ? "clear, go" : prompt.Kind == PromptKind.Choice ? "answer" : "go on",
                "Gives the answer that is chosen or typed.",
                GiveChosen,
                Stroke.Enter);
            yield return KeyEntry.Of("why", "Says why this is asked.", () => showsWhy = !showsWhy, 'w', Stroke.Function(4));
        }
    }

    /// <summary>Shows another question, or none.</summary>
    public void Show(AskedQuestion? asked)
    {
        if (ReferenceEquals(asked, question))
        {
            return;
        }

        (question, showsWhy, field) = (asked, false, new TextField());
        cursor.Set(0, 1);
        if (asked is not null && asked.Prompt.Kind == PromptKind.Choice && asked.Hint is { } hint)
        {
            var at = asked.Prompt.Choices.IndexOf(asked.Prompt.Choices.FirstOrDefault(choice => choice.Word == hint)!);
            cursor.Set(Math.Max(0, at), asked.Prompt.Choices.Length);
        }
        else if (asked is not null && TakesText && (asked.Hint ?? asked.Prompt.Usual) is { } typed)
        {
            field.Set(typed);
        }
    }

    /// <summary>A stroke for the field.</summary>
    public bool Type(Stroke stroke) => TakesText && field.Type(stroke);

    /// <summary>Text pasted into the field.</summary>
    public void Paste(string text)
    {
        if (TakesText)
        {
            field.Insert(text);
        }
    }

    /// <summary>A click: on an answer it chooses it, on the chosen one it gives it.</summary>
    /// <returns>Whether there was something of the question.</returns>
    public bool Click(int column, int row)
    {
        if (question is null || TakesText || !answersRoom.Contains(column, row))
        {
            return false;
        }

        var item = cursor.ItemAt(row - answersRoom.Top);
        if (question.Prompt.Kind == PromptKind.Acknowledge || item == cursor.At)
        {
            GiveChosen();
        }
        else
        {
            cursor.Set(item, question.Prompt.Choices.Length);
        }

        return true;
    }

    /// <summary>How many rows it wants at a width.</summary>
    public int RowsFor(int columns) => question is null ? 0 : 2 + Build(columns - 4).Rows + AnswerRows;

    private int AnswerRows => question!.Prompt.Kind switch
    {
        PromptKind.Choice => question.Prompt.Choices.Length,
        PromptKind.Acknowledge => 1,
        _ => 2,
    };

    /// <summary>Draws it.</summary>
    public void Draw(CellCanvas canvas, Rect area)
    {
        if (question is null || area.IsEmpty)
        {
            return;
        }

        canvas.Fill(area, Role.Text);
        var isDanger = question.Prompt.HandsClear;
        Frames.Box(canvas, area, isDanger ? "The machine moves next" : "A question", isDanger ? Role.Warning : Role.Accent, Ink.Bold(isDanger ? Role.Warning : Role.Accent));
        var inside = area.Inset(2, 1);
        var page = Build(inside.Columns);
        var (text, answers) = inside.CutBottom(AnswerRows);
        page.Draw(canvas, text, new ScrollPosition());
        answersRoom = answers;
        switch (question.Prompt.Kind)
        {
            case PromptKind.Choice:
                DrawChoices(canvas, answers);
                break;
            case PromptKind.Acknowledge:
                DrawBigKey(canvas, answers.Left, answers.Top, "Enter", question.Prompt.Choices.IsDefaultOrEmpty ? "go on" : question.Prompt.Choices[0].Label);
                break;
            default:
                field.Draw(canvas, new Rect(answers.Left, answers.Top, Math.Min(40, answers.Columns), 1), hasFocus: true);
                canvas.Write(answers.Left, answers.Top + 1, CellText.Fit(Narration.PromptText.Accepted(question.Prompt), answers.Columns), Role.Quiet);
                break;
        }
    }

    private static void DrawBigKey(CellCanvas canvas, int column, int row, string key, string label)
    {
        var after = canvas.Write(column, row, $" {key} ", new Ink(Role.SelectionText, Role.Selection, Letters.Bold));
        canvas.Write(after + 1, row, CellText.Fit(label, canvas.Columns - after - 2), Ink.Bold(Role.Text));
    }

    private void DrawChoices(CellCanvas canvas, Rect area) =>
        cursor.Draw(canvas, area, question!.Prompt.Choices.Length, hasFocus: true, (sheet, line, item, isChosen) =>
        {
            var choice = question.Prompt.Choices[item];
            var after = sheet.Write(line.Left, line.Top, FormattableString.Invariant($"{item + 1} "), Ink.Over(isChosen ? Role.SelectionText : Role.Key, Letters.Bold));
            after = sheet.Write(after, line.Top, CellText.Pad(choice.Word, 10), Ink.Over(isChosen ? Role.SelectionText : Role.Text, Letters.Bold));
            var label = choice.Label == choice.Word ? string.Empty : choice.Label;
            after = sheet.Write(after + 1, line.Top, CellText.Fit(label, line.Right - after - 1), Ink.Over(isChosen ? Role.SelectionText : Role.Quiet));
            if (question.Hint == choice.Word)
            {
                sheet.WriteLeftOf(line.Right, line.Top, CellText.FirstThatFits(line.Right - after, Hints), Ink.Over(isChosen ? Role.SelectionText : Role.Accent));
            }
        });

    private Page Build(int columns)
    {
        var page = new Page(Math.Max(10, columns));
        page.Paragraphs(question!.Prompt.Text, Ink.Bold(Role.Text));
        if (showsWhy)
        {
            page.Paragraphs($"Why: {question.Prompt.Why}", Role.Accent);
        }

        return page;
    }

    private void GiveChosen()
    {
        var prompt = question!.Prompt;
        switch (prompt.Kind)
        {
            case PromptKind.Choice:
                Give(prompt.Choices[cursor.At].Word);
                break;
            case PromptKind.Acknowledge:
                Give(Procedures.Operators.Answer.Continue);
                break;
            default:
                if (PlainPrompts.Understand(prompt, field.Text.Trim()) is { } understood)
                {
                    Give(understood.Value);
                }
                else
                {
                    tell($"That is not an answer here. Accepted is {Narration.PromptText.Accepted(prompt)}.");
                }

                break;
        }
    }

    private void Give(string answer)
    {
        if (question!.Prompt.HandsClear && time.GetElapsedTime(question.AskedAt) < Settling)
        {
            tell("The machine moves next: look first, then confirm.");
            return;
        }

        question.Answer(answer);
    }
}
