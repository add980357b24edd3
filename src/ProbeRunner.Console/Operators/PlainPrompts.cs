using System.Globalization;
using ProbeRunner.Console.Narration;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Transport.Framing;

namespace ProbeRunner.Console.Operators;

/// <summary>
/// Takes a person's answers in plain lines from a terminal or a pipe. The questions themselves are told with the run's other news, so that
/// they stand where they belong. The words closer and farther nudge the nozzle while lines are laid.
/// </summary>
/// <param name="input">Where answers are typed.</param>
/// <param name="output">Where the person is helped.</param>
internal sealed class PlainPrompts(TextReader input, TextWriter output) : IOperator
{
    /// <summary>Where the lines come from.</summary>
    public TypedLines Typed { get; } = new(input, NudgeIn, output);

    /// <inheritdoc />
    public bool IsPresent => true;

    /// <inheritdoc />
    public async Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel)
    {
        while (true)
        {
            var typed = await Typed.NextAsync(cancel)
                ?? throw new OperatorGoneException("The terminal was closed, so nobody can answer any more.");
            if (typed.Trim() == "?")
            {
                output.WriteLine($"    why: {WireText.Printable(prompt.Why)}");
                continue;
            }

            if (Understand(prompt, typed.Trim()) is { } answer)
            {
                return answer;
            }

            output.WriteLine($"    Please answer with {PromptText.Accepted(prompt)}; ? tells why this is asked.");
        }
    }

    /// <summary>The nudge that a typed line asks for; null for none.</summary>
    internal static NudgeDirection? NudgeIn(string typed) => typed.Trim().ToLowerInvariant() switch
    {
        "closer" => NudgeDirection.Closer,
        "farther" => NudgeDirection.Farther,
        _ => null,
    };

    /// <summary>Takes a typed line as an answer to a prompt; null when it is none.</summary>
    internal static Answer? Understand(Prompt prompt, string typed)
    {
        switch (prompt.Kind)
        {
            case PromptKind.Acknowledge:
                return typed.Length == 0 || typed.Equals(Answer.Continue, StringComparison.OrdinalIgnoreCase) ? new Answer(Answer.Continue) : null;
            case PromptKind.Choice:
                var exact = prompt.Choices.FirstOrDefault(choice => choice.Word.Equals(typed, StringComparison.OrdinalIgnoreCase));
                var starts = prompt.Choices.Where(choice => typed.Length > 0 && choice.Word.StartsWith(typed, StringComparison.OrdinalIgnoreCase)).ToList();
                var chosen = exact ?? (starts.Count == 1 ? starts[0] : null);
                return chosen is null ? null : new Answer(chosen.Word);
            case PromptKind.Number:
                return Number(prompt, typed);
            default:
                return typed.Length == 0 && prompt.Usual is { } usual ? new Answer(usual)
                    : typed.Length is > 0 and <= AnswerCheck.LongestText ? new Answer(typed) : null;
        }
    }

    private static Answer? Number(Prompt prompt, string typed)
    {
        // A person may type a decimal comma; a number with a grouping mark is refused rather than guessed at.
        var plain = typed.Replace(',', '.');
        var known = double.TryParse(plain, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value);
        var inside = known && !(value < prompt.Lowest) && !(value > prompt.Highest);
        return inside ? new Answer(value.ToString("R", CultureInfo.InvariantCulture)) : null;
    }
}
