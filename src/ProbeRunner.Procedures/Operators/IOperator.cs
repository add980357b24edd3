namespace ProbeRunner.Procedures.Operators;

/// <summary>The person at the machine, however reached: screens, plain prompts, an answers file, a simulation.</summary>
public interface IOperator
{
    /// <summary>Whether somebody can answer at all; unattended runs have nobody.</summary>
    bool IsPresent { get; }

    /// <summary>Puts a question and waits for the answer.</summary>
    /// <exception cref="OperatorGoneException">Nobody can answer any more (terminal closed, answers used up).</exception>
    Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel);
}

/// <summary>Nobody can answer any more.</summary>
public sealed class OperatorGoneException(string why) : Exception(why);
