namespace ProbeRunner.SimulatedPrinter.Senses;

/// <summary>
/// What a person at the machine feels, sees and does: one line of text asked, one line answered. Never a height.
/// The verbs are listed at <see cref="Bystander"/>.
/// </summary>
public interface ISenses
{
    /// <summary>Asks or does something.</summary>
    /// <param name="question">A verb with its words, one line.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <returns>The answer; it begins with <c>?</c> when the question was not understood.</returns>
    Task<string> AskAsync(string question, CancellationToken cancel = default);
}
