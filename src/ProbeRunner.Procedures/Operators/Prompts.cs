
namespace ProbeRunner.Procedures.Operators;

/// <summary>Makers of the usual kinds of prompt.</summary>
public static class Prompts
{
    /// <summary>A caution or an instruction: read and go on.</summary>
    public static Prompt Acknowledge(string id, string text, string why) =>
        new(id, PromptKind.Acknowledge, text, why, [new Choice(Answer.Continue, "go on")]);

    /// <summary>"Paper out, hands clear": the machine moves next.</summary>
    public static Prompt HandsClear(string id, string text) =>
        new(id, PromptKind.Acknowledge, text, "The machine moves as soon as you confirm; fingers and paper must be out of its way.", [new Choice(Answer.Continue, "paper out, hands clear")], HandsClear: true);

    /// <summary>One of a few words; the first is the safe one.</summary>
    public static Prompt Choose(string id, string text, string why, params (string Word, string Label)[] choices) =>
        new(id, PromptKind.Choice, text, why, [.. choices.Select(choice => new Choice(choice.Word, choice.Label))]);

    /// <summary>A short text, for which there may be a usual one, and which may stay empty where nobody is there.</summary>
    public static Prompt Name(string id, string text, string why, string? usual) => new(id, PromptKind.Text, text, why, [], Usual: usual, WhenNobody: string.Empty);

    /// <summary>No (the safe answer, first) or yes.</summary>
    public static Prompt YesNo(string id, string text, string why) => Choose(id, text, why, ("no", "no, or not sure"), ("yes", "yes"));
}
