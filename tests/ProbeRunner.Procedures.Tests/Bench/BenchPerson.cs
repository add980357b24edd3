using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Procedures.Tests.Bench;

/// <summary>A person at the ideal printer: answers as if all were well, feels the paper by the true gap.</summary>
internal sealed class BenchPerson(TimeProvider time, IdealPrinter printer) : IOperator
{
    public const double PaperMm = 0.10;

    public bool IsPresent { get; set; } = true;

    public Dictionary<string, string> Answers { get; } = [];

    public List<string> Asked { get; } = [];

    /// <summary>Called before each answer.</summary>
    public Func<Prompt, Task>? Before { get; set; }

    public async Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel)
    {
        Asked.Add(prompt.Id);
        if (Before is not null)
        {
            await Before(prompt);
        }

        await Task.Delay(TimeSpan.FromSeconds(2), time, cancel);
        printer.ProbePushed = prompt.Id == PromptIds.SelfCheckHold;
        if (prompt.Id == PromptIds.HaltTrialReset)
        {
            printer.ResetAfterHalt();
        }

        if (Answers.TryGetValue(prompt.Id, out string? answer))
        {
            return new Answer(answer);
        }

        return new Answer(prompt.Id switch
        {
            PromptIds.StepDownPaper or PromptIds.VerifyPaper or PromptIds.LeanPaper => Feel(),
            _ when prompt.Kind == PromptKind.Acknowledge => Answer.Continue,
            _ => PromptIds.WhenAllIsWell[prompt.Id],
        });
    }

    private string Feel() => printer.GapMm switch
    {
        > PaperMm => "free",
        > PaperMm - 0.03 => "drags",
        _ => "pinched",
    };
}
