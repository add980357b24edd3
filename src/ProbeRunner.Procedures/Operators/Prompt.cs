using System.Collections.Immutable;
using System.Text.Json.Serialization;

namespace ProbeRunner.Procedures.Operators;

/// <summary>How a prompt is answered.</summary>
public enum PromptKind
{
    /// <summary>Read and go on; the one choice is to continue. Cautions are of this kind.</summary>
    Acknowledge,

    /// <summary>One of the choices.</summary>
    Choice,

    /// <summary>A number within <see cref="Prompt.Lowest"/> and <see cref="Prompt.Highest"/>.</summary>
    Number,

    /// <summary>A short text.</summary>
    Text,
}

/// <summary>A question to the person.</summary>
/// <param name="Id">Stable dotted name, the same in every run: "preflight.bed-clean", "step-down.paper". Answers files and simulated operators go by it.</param>
/// <param name="Kind">How it is answered.</param>
/// <param name="Text">The question, a sentence or two.</param>
/// <param name="Why">Why it is asked; shown on request.</param>
/// <param name="Choices">For a choice: each with the word that answers it. The first is the safe one.</param>
/// <param name="Unit">For a number: its unit.</param>
/// <param name="Lowest">For a number: the smallest accepted.</param>
/// <param name="Highest">For a number: the largest accepted.</param>
/// <param name="HandsClear">Whether the machine moves next, so that the answer confirms "paper out, hands clear".</param>
/// <param name="About">What it is about, for programs: a screw's name with its turns, a patch's place; empty otherwise.</param>
/// <param name="Usual">For a text: what an empty answer stands for; null when it stands for nothing.</param>
/// <param name="WhenNobody">The answer that stands where nobody is there to be asked; null when the question then ends the run.</param>
public sealed record Prompt(
    string Id,
    PromptKind Kind,
    string Text,
    string Why,
    ImmutableArray<Choice> Choices,
    string Unit = "",
    double? Lowest = null,
    double? Highest = null,
    bool HandsClear = false,
    string About = "",
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? Usual = null,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? WhenNobody = null);

/// <summary>One choice of a prompt.</summary>
/// <param name="Word">What answers it: "yes", "free", "drags".</param>
/// <param name="Label">What it means.</param>
public sealed record Choice(string Word, string Label);

/// <summary>An answer: the choice's word, the text, or the number in the invariant culture.</summary>
public sealed record Answer(string Value)
{
    /// <summary>The word that continues an acknowledgement.</summary>
    public const string Continue = "continue";
}
