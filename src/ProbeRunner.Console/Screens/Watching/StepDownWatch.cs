using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Console.Screens.Watching;

/// <summary>The picture of a paper test while it is done.</summary>
internal static class StepDownWatch
{
    private const int MostAnswers = 400;
    private const string PaperQuestion = "paper";

    /// <summary>After an event.</summary>
    public static StepDownState After(StepDownState state, RunEvent told) => told switch
    {
        PromptAsked e when IsPaperQuestion(e.Prompt.Id) => state with { IsAsking = true, Take = Math.Max(1, state.Take) },
        PromptAsked => state with { IsAsking = false },
        AnswerGiven e when IsPaperQuestion(e.PromptId) => state with { IsAsking = false },
        PaperFelt e => With(state, e),
        _ => state,
    };

    /// <summary>Once it is concluded.</summary>
    public static StepDownState Concluded(StepDownState state, StepDownConclusion concluded) =>
        state with { Answers = concluded.Answers, IsAsking = false, Keys = [] };

    private static bool IsPaperQuestion(string id) => id.EndsWith("." + PaperQuestion, StringComparison.Ordinal);

    private static StepDownState With(StepDownState state, PaperFelt felt)
    {
        IEnumerable<FeltHeight> earlier = state.Answers.Where(answer => answer.Take != felt.Take);
        var estimates = felt.Take == state.Take ? state.Estimates : [];

        // An answer that was taken back leaves fewer answers than estimates; the course is then begun anew from here.
        estimates = estimates.Length > felt.Answers.Length ? [] : estimates;
        return state with
        {
            Take = felt.Take,
            Answers = [.. earlier.Concat(felt.Answers).TakeLast(MostAnswers)],
            Estimates = felt.Estimate is { } estimate ? [.. estimates.TakeLast(MostAnswers), estimate] : [],
            WantedHalfWidthMm = felt.WantedHalfWidthMm,
        };
    }
}
