using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

/// <summary>What questions say, as they are asked during whole runs.</summary>
public sealed class PromptWordsTests
{
    /// <summary>Words that only a surveyor or a statistician would know.</summary>
    private static readonly string[] Jargon = ["datum", "epoch", "epsilon", "bias", "sigma", "residual", "prior", "posterior"];

    [Theory]
    [InlineData("good", "commission")]
    [InlineData("tilted", "level-screws")]
    [InlineData("sunken-gantry", "level-screws")]
    public void Every_question_is_a_sentence_says_why_it_is_asked_and_labels_its_answers(string scenario, string script) => VirtualTime.Run(async time =>
    {
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, scenario);
        var asked = new List<Prompt>();
        bench.Person.Before = asked.Add;

        await bench.RunAsync(TestBench.Script(script));

        Assert.NotEmpty(asked);
        Assert.Empty(asked.SelectMany(Faults).Distinct());
    });

    private static IEnumerable<string> Faults(Prompt prompt)
    {
        if (!prompt.Text.TrimEnd().EndsWith('.') && !prompt.Text.TrimEnd().EndsWith('?'))
        {
            yield return $"{prompt.Id} does not end as a sentence: {prompt.Text}";
        }

        if (string.IsNullOrWhiteSpace(prompt.Why))
        {
            yield return $"{prompt.Id} does not say why it is asked";
        }

        foreach (Choice choice in prompt.Choices.Where(choice => string.IsNullOrWhiteSpace(choice.Label)))
        {
            yield return $"{prompt.Id} does not say what {choice.Word} means";
        }

        string all = string.Join(' ', [prompt.Text, prompt.Why, .. prompt.Choices.Select(choice => choice.Label)]);
        foreach (string word in Jargon.Where(word => all.Split([' ', '.', ',', ':', ';', '?', '(', ')']).Contains(word, StringComparer.OrdinalIgnoreCase)))
        {
            yield return $"{prompt.Id} says \"{word}\"";
        }
    }
}
