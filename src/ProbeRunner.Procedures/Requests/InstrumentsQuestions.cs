using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Procedures.Requests;

/// <summary>Questions that the engine itself puts, outside any step.</summary>
internal static class InstrumentsQuestions
{
    /// <summary>Has the person confirm that paper and hands are out; answers itself where nobody is near.</summary>
    public static Task<Answer> AskHandsClearAsync(this Instruments with, string id, string text, CancellationToken cancel) =>
        new AskPerson(Prompts.HandsClear(id, text)).PerformAsync(with, cancel);
}
