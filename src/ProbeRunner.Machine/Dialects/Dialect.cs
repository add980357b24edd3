using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using ProbeRunner.Transport.Commands;

namespace ProbeRunner.Machine.Dialects;

/// <summary>
/// What one kind of controller understands and answers, as its dialect file says. All words of the wire come from there; the rest of
/// the program knows verbs and numbers.
/// </summary>
public sealed class Dialect : ILineGrammar
{
    private readonly LineWords _words;
    private readonly FrozenDictionary<Verb, ImmutableArray<CommandTemplate>> _commands;
    private readonly FrozenDictionary<Verb, ImmutableArray<CommandTemplate>> _otherwise;
    private readonly FrozenDictionary<string, ReplyPattern> _replies;
    private readonly FrozenDictionary<string, SettingName> _settings;

    internal Dialect(
        string name,
        string text,
        TouchReport touchReport,
        bool meshFrontRowFirst,
        ChannelTimes times,
        LineWords words,
        FrozenDictionary<Verb, ImmutableArray<CommandTemplate>> commands,
        FrozenDictionary<Verb, ImmutableArray<CommandTemplate>> otherwise,
        FrozenDictionary<string, ReplyPattern> replies,
        FrozenDictionary<string, SettingName> settings)
    {
        Name = name;
        Text = text;
        TouchReport = touchReport;
        MeshFrontRowFirst = meshFrontRowFirst;
        Times = times;
        _words = words;
        _commands = commands;
        _otherwise = otherwise;
        _replies = replies;
        _settings = settings;
        Question = Commands(Verb.Temperatures)[0];
    }

    /// <summary>The dialect's name, as in the file name.</summary>
    public string Name { get; }

    /// <summary>The file's text, to be kept with a run.</summary>
    public string Text { get; }

    /// <summary>What a touch report's height means.</summary>
    public TouchReport TouchReport { get; }

    /// <summary>Whether a mesh report without row numbers begins with the front row.</summary>
    public bool MeshFrontRowFirst { get; }

    /// <summary>How long the channel waits for what.</summary>
    public ChannelTimes Times { get; }

    /// <summary>Options for a channel that speaks this dialect.</summary>
    public ChannelOptions ChannelOptions => ChannelOptions.Default with { Numbered = _words.Numbered, Times = Times };

    /// <inheritdoc />
    public string HaltLine => _words.Halt;

    /// <inheritdoc />
    public Command Question { get; }

    /// <summary>Whether the dialect has a verb.</summary>
    public bool Has(Verb verb) => _commands.ContainsKey(verb);

    /// <summary>The lines that carry out a verb.</summary>
    /// <param name="verb">The verb; <see cref="Has"/> says whether there is one.</param>
    /// <param name="numbers">Its parameters, by name; finite.</param>
    /// <exception cref="InvalidOperationException">The dialect has no such verb.</exception>
    /// <exception cref="ArgumentException">A number is missing, not finite or too large to be meant.</exception>
    public ImmutableArray<Command> Commands(Verb verb, params ReadOnlySpan<(string Name, double Value)> numbers)
    {
        return _commands.TryGetValue(verb, out ImmutableArray<CommandTemplate> templates)
            ? Rendered(verb, templates, numbers)
            : throw new InvalidOperationException($"The dialect {Name} has no verb {VerbTable.Rules[verb].Key}.");
    }

    /// <summary>Other lines for the same verb, for a controller that does not know the first; null when there are none.</summary>
    internal ImmutableArray<Command>? CommandsOtherwise(Verb verb, ReadOnlySpan<(string Name, double Value)> numbers) =>
        _otherwise.TryGetValue(verb, out ImmutableArray<CommandTemplate> templates) ? Rendered(verb, templates, numbers) : null;

    private ImmutableArray<Command> Rendered(Verb verb, ImmutableArray<CommandTemplate> templates, ReadOnlySpan<(string Name, double Value)> numbers)
    {
        CommandKind kind = VerbTable.Rules[verb].Kind;
        Func<string, bool>? answer = AnswerOf(verb);
        var lines = ImmutableArray.CreateBuilder<Command>(templates.Length);
        foreach (CommandTemplate template in templates)
        {
            lines.Add(new Command(template.Render(numbers), kind) { Answer = answer });
        }

        return lines.MoveToImmutable();
    }

    /// <inheritdoc />
    public ClassifiedLine Classify(string line)
    {
        ArgumentNullException.ThrowIfNull(line);
        foreach ((LineKind kind, ReplyPattern pattern) in _words.Kinds)
        {
            if (pattern.Match(line) is Match match)
            {
                return new ClassifiedLine(kind, NumberIn(match));
            }
        }

        return new ClassifiedLine(LineKind.Other);
    }

    /// <inheritdoc />
    public string Number(string command, int number) =>
        string.Create(CultureInfo.InvariantCulture, $"{_words.BeforeNumber}{number}{_words.AfterNumber}{command}");

    /// <inheritdoc />
    public string Seal(string numbered, int checksum) =>
        string.Create(CultureInfo.InvariantCulture, $"{numbered}{_words.BeforeChecksum}{checksum}");

    /// <inheritdoc />
    public string SetLineNumber(int number) => _words.SetNumber.Render([("number", number)]);

    /// <summary>How a pattern in a file begins and ends; null when the dialect does not say.</summary>
    internal PatternWords? Pattern { get; init; }

    internal ReplyPattern Reply(string key) => _replies.GetValueOrDefault(key, ReplyPattern.None);

    internal SettingName? SettingNameOf(string word, string letter) =>
        _settings.TryGetValue($"{word}.{letter}", out SettingName name) ? name : null;

    internal int DecimalsOf(Verb verb, string parameter) => _commands[verb].Max(template => template.DecimalsOf(parameter));

    private Func<string, bool>? AnswerOf(Verb verb)
    {
        if (verb == Verb.Touch)
        {
            return line => Reply(ReplyKeys.Touch).Matches(line) || Reply(ReplyKeys.TouchFailure).Matches(line);
        }

        string? key = VerbTable.Rules[verb].Reply;
        return key is not null && Reply(key) is { IsKnown: true } reply ? reply.Matches : null;
    }

    private static int? NumberIn(Match match) =>
        int.TryParse(match.Groups["line"].ValueSpan, NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : null;
}
