using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Operators;

/// <summary>An unattended run: the engine refuses scripts that need a person before anything moves.</summary>
internal sealed class Nobody : IOperator
{
    /// <inheritdoc />
    public bool IsPresent => false;

    /// <inheritdoc />
    public Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel) =>
        throw new OperatorGoneException($"The run is unattended, so nobody can answer \"{prompt.Id}\".");
}
