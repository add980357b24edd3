using System.Globalization;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Transport.Framing;

namespace ProbeRunner.Console.Narration;

/// <summary>How a question to the person looks in plain lines.</summary>
internal static class PromptText
{
    /// <summary>The question with its choices.</summary>
    public static IEnumerable<string> Lines(Prompt prompt)
    {
        yield return "";
        yield return $"  > {WireText.Printable(prompt.Text)}";
        if (prompt.HandsClear)
        {
            yield return "    The machine moves next: paper out, hands clear.";
        }

        if (prompt.Kind == PromptKind.Choice)
        {
            foreach (var choice in prompt.Choices)
            {
                yield return $"      {choice.Word,-10} {WireText.Printable(choice.Label)}";
            }
        }

        yield return $"    [{Accepted(prompt)}]";
    }

    /// <summary>What may be typed.</summary>
    public static string Accepted(Prompt prompt) => prompt.Kind switch
    {
        PromptKind.Acknowledge => "Enter to go on",
        PromptKind.Choice => string.Join(" | ", prompt.Choices.Select(choice => choice.Word)),
        PromptKind.Number => string.Create(
            CultureInfo.InvariantCulture, $"a number in {prompt.Unit} from {prompt.Lowest ?? double.MinValue} to {prompt.Highest ?? double.MaxValue}"),
        _ => prompt.Usual is { } usual ? $"a short text; Enter alone for {WireText.Printable(usual)}" : "a short text",
    };
}
