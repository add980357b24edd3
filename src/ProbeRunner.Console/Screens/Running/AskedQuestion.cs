using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Screens.Running;

/// <summary>A question that waits for the person.</summary>
/// <param name="Prompt">The question.</param>
/// <param name="Hint">What the simulated bench lets the person's senses feel or see; null at a real machine.</param>
/// <param name="AskedAt">When it came up, by the screens' clock.</param>
internal sealed record AskedQuestion(Prompt Prompt, string? Hint, long AskedAt)
{
    private readonly TaskCompletionSource<Answer> answered = new(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <summary>Done with the answer.</summary>
    public Task<Answer> Answered => answered.Task;

    /// <summary>Answers it; once.</summary>
    public void Answer(string value) => answered.TrySetResult(new Answer(value));

    /// <summary>Nobody will answer it any more.</summary>
    public void Abandon(string why) => answered.TrySetException(new OperatorGoneException(why));
}
