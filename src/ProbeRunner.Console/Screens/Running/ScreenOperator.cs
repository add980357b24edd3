using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Screens.Running;

/// <summary>
/// The person at the screens. At a simulated machine hands, eyes and paper are simulated too: the question then comes with what they
/// would tell, and the person may let the simulated one answer from then on.
/// </summary>
/// <param name="simulated">The simulated person; null at a real machine.</param>
/// <param name="time">The screens' clock.</param>
/// <param name="changed">Called when a question comes up or goes; returns at once.</param>
internal sealed class ScreenOperator(IOperator? simulated, TimeProvider time, Action changed) : IOperator
{
    private const string Closed = "The terminal was closed, so nobody can answer any more.";
    private volatile AskedQuestion? pending;
    private volatile bool isClosed;

    /// <inheritdoc />
    public bool IsPresent => true;

    /// <summary>Whether there is a simulated person who could answer.</summary>
    public bool HasSimulated => simulated is not null;

    /// <summary>Whether the simulated person answers.</summary>
    public bool AnswersItself { get; set; }

    /// <summary>The question that waits; null for none.</summary>
    public AskedQuestion? Pending => pending;

    /// <inheritdoc />
    public async Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel)
    {
        var felt = simulated is null ? null : await FeelAsync(prompt, cancel);
        if (felt is not null && AnswersItself)
        {
            return felt;
        }

        var question = new AskedQuestion(prompt, felt?.Value, time.GetTimestamp());
        pending = question;
        if (isClosed)
        {
            question.Abandon(Closed);
        }

        changed();
        try
        {
            return await question.Answered.WaitAsync(cancel);
        }
        finally
        {
            pending = null;
            changed();
        }
    }

    /// <summary>The terminal is gone: whatever waits or will be asked has nobody to answer it.</summary>
    public void Close()
    {
        isClosed = true;
        pending?.Abandon(Closed);
    }

    /// <summary>Does with the simulated hands what the question is about, and tells what they felt; null where only a person can say.</summary>
    private async Task<Answer?> FeelAsync(Prompt prompt, CancellationToken cancel)
    {
        try
        {
            return await simulated!.AskAsync(prompt, cancel);
        }
        catch (OperatorGoneException)
        {
            return null;
        }
    }
}
