using System.Globalization;

namespace ProbeRunner.Procedures.Operators;

/// <summary>Whether an answer fits its prompt.</summary>
public static class AnswerCheck
{
    /// <summary>The longest text that is taken for an answer.</summary>
    public const int LongestText = 40;

    /// <summary>Why an answer can't be taken, with what is accepted; null when it can.</summary>
    public static string? WhyWrong(Prompt prompt, Answer answer)
    {
        ArgumentNullException.ThrowIfNull(prompt);
        ArgumentNullException.ThrowIfNull(answer);
        return prompt.Kind switch
        {
            PromptKind.Acknowledge when answer.Value != Answer.Continue =>
                $"\"{Shown(answer)}\" does not answer {prompt.Id}; accepted is \"{Answer.Continue}\".",
            PromptKind.Choice when !prompt.Choices.Any(choice => choice.Word == answer.Value) =>
                $"\"{Shown(answer)}\" does not answer {prompt.Id}; accepted are {string.Join(", ", prompt.Choices.Select(choice => choice.Word))}.",
            PromptKind.Number when NumberOf(answer) is not { } number || number < (prompt.Lowest ?? number) || number > (prompt.Highest ?? number) =>
                string.Create(CultureInfo.InvariantCulture, $"\"{Shown(answer)}\" does not answer {prompt.Id}; accepted is a number from {prompt.Lowest} to {prompt.Highest} {prompt.Unit}."),
            PromptKind.Text when answer.Value.Length > LongestText || (answer.Value.Length == 0 && prompt.WhenNobody is null) =>
                string.Create(CultureInfo.InvariantCulture, $"\"{Shown(answer)}\" does not answer {prompt.Id}; accepted is a short text, up to {LongestText} characters."),
            _ => null,
        };
    }

    /// <summary>The number that an answer gives, invariant culture; null when it is none.</summary>
    public static double? NumberOf(Answer answer)
    {
        ArgumentNullException.ThrowIfNull(answer);
        return double.TryParse(answer.Value, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number) ? number : null;
    }

    private static string Shown(Answer answer) =>
        string.Concat((answer.Value.Length > 40 ? answer.Value[..40] : answer.Value).Where(character => !char.IsControl(character)));
}
