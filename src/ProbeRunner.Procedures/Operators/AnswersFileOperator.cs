using System.Collections.Immutable;
using System.Globalization;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Operators;

/// <summary>
/// Answers from a file, for rehearsed runs: TOML with <c>[answers]</c>, in it <c>"prompt.id" = "answer"</c> or a list that is used up in order; the last
/// answer of a list is not repeated, a single one is. Acknowledgements, and questions with a usual answer, need no entry.
/// </summary>
public sealed class AnswersFileOperator : IOperator
{
    private readonly string _name;
    private readonly Dictionary<string, ImmutableArray<string>> _answers = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int> _used = new(StringComparer.Ordinal);

    private AnswersFileOperator(string name) => _name = name;

    /// <inheritdoc />
    public bool IsPresent => true;

    /// <summary>Ids whose answers were never, or not all, asked for; a rehearsed run that ends should leave none.</summary>
    public ImmutableArray<string> LeftOver =>
    [
        .. _answers.Where(pair => _used.GetValueOrDefault(pair.Key) < pair.Value.Length).Select(pair => pair.Key).Order(StringComparer.Ordinal),
    ];

    /// <summary>Reads a file.</summary>
    /// <exception cref="FileFaultException">It is missing or wrong.</exception>
    public static AnswersFileOperator Load(string path) => Parse(TomlFile.Load(path).Text, path);

    /// <summary>Reads a text.</summary>
    /// <exception cref="FileFaultException">It is wrong.</exception>
    public static AnswersFileOperator Parse(string text, string name)
    {
        TomlFile file = TomlFile.Parse(text, name);
        TomlSection section = file.Root.Section("answers");
        var person = new AnswersFileOperator(name);
        foreach (string id in section.Keys)
        {
            ImmutableArray<string> answers = section.TextOrTexts(id);
            if (answers.IsDefaultOrEmpty)
            {
                section.Refuse(id, "an answer without a word", "text in quotes or a list of such texts is accepted; numbers in quotes too");
                continue;
            }

            person._answers[id] = answers;
        }

        file.Finish();
        return person;
    }

    /// <inheritdoc />
    /// <exception cref="OperatorGoneException">The file has no answer (left) for the question, or one that does not fit it.</exception>
    public Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(prompt);
        if (!_answers.TryGetValue(prompt.Id, out ImmutableArray<string> answers))
        {
            return prompt.Kind == PromptKind.Acknowledge ? Task.FromResult(new Answer(Answer.Continue))
                : (prompt.Usual ?? prompt.WhenNobody) is { } usual ? Task.FromResult(new Answer(usual))
                : throw new OperatorGoneException($"{_name} has no answer for \"{prompt.Id}\"; it takes {Accepted(prompt)}.");
        }

        int used = _used.GetValueOrDefault(prompt.Id);
        if (used >= answers.Length && answers.Length > 1)
        {
            throw new OperatorGoneException(string.Create(CultureInfo.InvariantCulture, $"{_name} has {answers.Length} answers for \"{prompt.Id}\", and it was asked once more."));
        }

        var answer = new Answer(answers[Math.Min(used, answers.Length - 1)]);
        _used[prompt.Id] = used + 1;
        return AnswerCheck.WhyWrong(prompt, answer) is { } wrong ? throw new OperatorGoneException($"{_name}: {wrong}") : Task.FromResult(answer);
    }

    private static string Accepted(Prompt prompt) => prompt.Kind == PromptKind.Choice
        ? string.Join(", ", prompt.Choices.Select(choice => choice.Word))
        : "a text or number";
}
