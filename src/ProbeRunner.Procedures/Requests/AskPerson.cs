using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Procedures.Requests;

/// <summary>
/// Puts a question to the person. Where nobody is present, a "hands clear" question answers itself with <see cref="NobodyNear"/>:
/// nobody's hands can be in the way of an unattended machine, and one with an answer for that case takes it. Any other question then ends the run.
/// </summary>
public sealed record AskPerson(Prompt Prompt) : Request<Answer>
{
    /// <summary>The answer that stands for an absent person's.</summary>
    public const string NobodyNear = "nobody-near";

    private const int MostAttempts = 20;

    internal override WorkKind Work => WorkKind.Question;

    internal override bool CanBeLeft => true;

    internal override bool MeetsMachine => false;

    internal override async Task<Answer> PerformAsync(Instruments with, CancellationToken cancel)
    {
        if (!with.Person.IsPresent && Prompt.HandsClear)
        {
            return new Answer(NobodyNear);
        }

        if (!with.Person.IsPresent && Prompt.WhenNobody is { } standing)
        {
            return new Answer(standing);
        }

        with.Events.Tell(at => new PromptAsked(at, Prompt));
        for (int attempt = 0; attempt < MostAttempts; attempt++)
        {
            Answer answer = await with.Person.AskAsync(Prompt, cancel);
            if (AnswerCheck.WhyWrong(Prompt, answer) is not { } wrong)
            {
                with.Events.Tell(at => new AnswerGiven(at, Prompt.Id, answer.Value));
                return answer;
            }

            with.Events.Tell(at => new Warned(at, Prompt.Id, wrong));
        }

        throw new OperatorGoneException($"The question {Prompt.Id} got no answer that it accepts. The run stops safely and can be resumed.");
    }
}
