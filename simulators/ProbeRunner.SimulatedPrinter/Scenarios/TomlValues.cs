using Tomlyn.Parsing;
using Tomlyn.Syntax;

namespace ProbeRunner.SimulatedPrinter.Scenarios;

/// <summary>A value of a TOML file and its place.</summary>
/// <param name="File">The file as the person named it.</param>
/// <param name="Line">From 1.</param>
/// <param name="Column">From 1.</param>
/// <param name="Content">A string, a double, a bool or a list of these and of lists.</param>
internal sealed record TomlValue(string File, int Line, int Column, object Content)
{
    public string Place => FormattableString.Invariant($"{File}:{Line}:{Column}");
}

/// <summary>A TOML file as values by dotted key. A later file's value takes the place of an earlier one's.</summary>
internal sealed class TomlValues
{
    private readonly Dictionary<string, TomlValue> _values = new(StringComparer.Ordinal);

    /// <summary>All values by dotted key, in file order.</summary>
    public IReadOnlyDictionary<string, TomlValue> All => _values;

    /// <summary>Adds a text's values.</summary>
    /// <exception cref="ScenarioException">It is not TOML, or has tables in lists.</exception>
    public void Add(string text, string file)
    {
        var document = SyntaxParser.Parse(text, file, validate: true);
        if (document.HasErrors)
        {
            throw new ScenarioException(string.Join('\n', document.Diagnostics.Select(message =>
                $"{PlaceOf(file, message.Span)}: {message.Message}; the file must be valid TOML")));
        }

        AddPairs(file, "", document.KeyValues);
        var lists = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var table in document.Tables)
        {
            var name = NameOf(table.Name!);
            if (table is TableArraySyntax)
            {
                var index = lists.GetValueOrDefault(name);
                lists[name] = index + 1;
                name = FormattableString.Invariant($"{name}.{index}");
            }

            AddPairs(file, name + ".", table.Items);
        }
    }

    private void AddPairs(string file, string prefix, IEnumerable<KeyValueSyntax> pairs)
    {
        foreach (var pair in pairs)
        {
            var at = pair.Key!.Span.Start;
            _values[prefix + NameOf(pair.Key!)] = new TomlValue(file, at.Line + 1, at.Column + 1, Content(file, pair.Value!));
        }
    }

    private static object Content(string file, ValueSyntax value) => value switch
    {
        StringValueSyntax text => text.Value ?? "",
        IntegerValueSyntax whole => (double)whole.Value,
        FloatValueSyntax number => number.Value,
        BooleanValueSyntax flag => flag.Value,
        ArraySyntax array => array.Items.Select(item => Content(file, item.Value!)).ToList(),
        _ => throw new ScenarioException($"{PlaceOf(file, value.Span)}: text, numbers, true, false and lists are accepted here"),
    };

    private static string NameOf(KeySyntax key) =>
        string.Join('.', new[] { NameOf(key.Key!) }.Concat(key.DotKeys.Select(dotted => NameOf(dotted.Key!))));

    private static string NameOf(BareKeyOrStringValueSyntax key) => key is StringValueSyntax text ? text.Value ?? "" : key.ToString().Trim();

    private static string PlaceOf(string file, SourceSpan span) =>
        FormattableString.Invariant($"{file}:{span.Start.Line + 1}:{span.Start.Column + 1}");
}
