using System.Text.Json;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Operators;

/// <summary>
/// Takes answers as JSON lines <c>{"id": ..., "answer": ...}</c>, and nudges as <c>{"nudge": "closer"}</c> or <c>"farther"</c> at any time;
/// the prompts themselves go out as run events.
/// </summary>
internal sealed class JsonPrompts(TextReader input, TextWriter errors) : IOperator
{
    /// <summary>Where the lines come from.</summary>
    public TypedLines Typed { get; } = new(input, NudgeIn, errors);

    /// <inheritdoc />
    public bool IsPresent => true;

    /// <inheritdoc />
    public async Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel)
    {
        while (true)
        {
            var line = await Typed.NextAsync(cancel)
                ?? throw new OperatorGoneException("The stream of answers ended, so nobody can answer any more.");
            if (Parse(line) is not { } given)
            {
                errors.WriteLine("An answer is one JSON object on a line: {\"id\": \"...\", \"answer\": \"...\"}.");
            }
            else if (given.Id != prompt.Id)
            {
                errors.WriteLine($"An answer to \"{given.Id}\" came while \"{prompt.Id}\" is asked; it was not used.");
            }
            else if (PlainPrompts.Understand(prompt, given.Answer) is { } answer)
            {
                return answer;
            }
            else
            {
                errors.WriteLine($"\"{given.Answer}\" is no answer to \"{prompt.Id}\".");
            }
        }
    }

    private static NudgeDirection? NudgeIn(string line) =>
        Property(line, "nudge") is { } word ? PlainPrompts.NudgeIn(word) : null;

    private static (string Id, string Answer)? Parse(string line) =>
        Property(line, "id") is { } id && Property(line, "answer") is { } answer ? (id, answer) : null;

    private static string? Property(string line, string name)
    {
        try
        {
            using var document = JsonDocument.Parse(line);
            var root = document.RootElement;
            return root.ValueKind == JsonValueKind.Object && root.TryGetProperty(name, out var value) ? value.ToString() : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
