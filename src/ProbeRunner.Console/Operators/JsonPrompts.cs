using System.Text.Json;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Operators;

/// <summary>Takes answers as JSON lines <c>{"id": ..., "answer": ...}</c>; the prompts themselves go out as run events.</summary>
internal sealed class JsonPrompts(TextReader input, TextWriter errors) : IOperator
{
    /// <inheritdoc />
    public bool IsPresent => true;

    /// <inheritdoc />
    public async Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel)
    {
        while (true)
        {
            var line = await Task.Run(input.ReadLine, cancel).WaitAsync(cancel)
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

    private static (string Id, string Answer)? Parse(string line)
    {
        try
        {
            using var document = JsonDocument.Parse(line);
            var root = document.RootElement;
            if (root.ValueKind != JsonValueKind.Object || !root.TryGetProperty("id", out var id) || !root.TryGetProperty("answer", out var answer))
            {
                return null;
            }

            return (id.ToString(), answer.ToString());
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
