using Tomlyn.Parsing;
using Tomlyn.Syntax;

namespace ProbeRunner.Machine.Toml;

/// <summary>Builds our small tree, in which every key and value knows its place, from the parser's syntax tree.</summary>
internal sealed class TomlTree
{
    /// <summary>Deeper nesting is refused: no file of ours needs it.</summary>
    private const int DeepestNesting = 16;

    private readonly string _file;
    private readonly FaultList _faults;

    private TomlTree(string file, FaultList faults)
    {
        _file = file;
        _faults = faults;
    }

    /// <summary>Parses a text; null when it is not TOML, with the faults added.</summary>
    public static TomlTable? Parse(string text, string file, FaultList faults)
    {
        DocumentSyntax document = SyntaxParser.Parse(text, file, validate: true);
        foreach (DiagnosticMessage message in document.Diagnostics)
        {
            faults.Add(Place(file, message.Span), Printable.Text(message.Message), "the file must be valid TOML");
        }

        return document.HasErrors ? null : new TomlTree(file, faults).Build(document);
    }

    private TomlTable Build(DocumentSyntax document)
    {
        var root = new TomlTable(new FilePosition(_file, 1, 1), []);
        foreach (KeyValueSyntax pair in document.KeyValues)
        {
            AddPair(root, pair, depth: 0);
        }

        foreach (TableSyntaxBase table in document.Tables)
        {
            TomlTable target = Open(root, table);
            foreach (KeyValueSyntax pair in table.Items)
            {
                AddPair(target, pair, depth: 0);
            }
        }

        return root;
    }

    private TomlTable Open(TomlTable root, TableSyntaxBase header)
    {
        List<(string Key, FilePosition Where)> path = PathOf(header.Name!);
        TomlTable parent = root;
        foreach ((string key, FilePosition where) in path.SkipLast(1))
        {
            parent = Descend(parent, key, where);
        }

        (string last, FilePosition place) = path[^1];
        if (header is not TableArraySyntax)
        {
            return Descend(parent, last, place);
        }

        var opened = new TomlTable(place, []);
        if (parent.Entries.TryGetValue(last, out TomlEntry? entry) && entry.Value is TomlList list)
        {
            list.Items.Add(opened);
        }
        else
        {
            parent.Entries[last] = new TomlEntry(place, new TomlList(place, [opened]));
        }

        return opened;
    }

    private static TomlTable Descend(TomlTable parent, string key, FilePosition where)
    {
        if (parent.Entries.TryGetValue(key, out TomlEntry? entry))
        {
            switch (entry.Value)
            {
                case TomlTable table:
                    return table;
                case TomlList { Items: [.., TomlTable last] }:
                    return last;
            }
        }

        var opened = new TomlTable(where, []);
        parent.Entries[key] = new TomlEntry(where, opened);
        return opened;
    }

    private void AddPair(TomlTable table, KeyValueSyntax pair, int depth)
    {
        List<(string Key, FilePosition Where)> path = PathOf(pair.Key!);
        foreach ((string key, FilePosition where) in path.SkipLast(1))
        {
            table = Descend(table, key, where);
        }

        (string last, FilePosition place) = path[^1];
        table.Entries[last] = new TomlEntry(place, ValueOf(pair.Value!, depth));
    }

    private TomlNode ValueOf(ValueSyntax value, int depth)
    {
        FilePosition where = Place(_file, value.Span);
        if (depth > DeepestNesting)
        {
            _faults.Add(where, "values are nested too deeply", FormattableString.Invariant($"at most {DeepestNesting} levels are accepted"));
            return new TomlScalar(where, string.Empty);
        }

        switch (value)
        {
            case StringValueSyntax text:
                return new TomlScalar(where, text.Value ?? string.Empty);
            case IntegerValueSyntax whole:
                return new TomlScalar(where, whole.Value);
            case FloatValueSyntax number:
                return new TomlScalar(where, number.Value);
            case BooleanValueSyntax flag:
                return new TomlScalar(where, flag.Value);
            case ArraySyntax array:
                return new TomlList(where, [.. array.Items.Select(item => ValueOf(item.Value!, depth + 1))]);
            case InlineTableSyntax inline:
                var table = new TomlTable(where, []);
                foreach (InlineTableItemSyntax item in inline.Items)
                {
                    AddPair(table, item.KeyValue!, depth + 1);
                }

                return table;
            default:
                _faults.Add(where, "a date or time is not used here", "text, numbers, true, false, lists and tables are accepted");
                return new TomlScalar(where, string.Empty);
        }
    }

    private List<(string Key, FilePosition Where)> PathOf(KeySyntax key)
    {
        var path = new List<(string, FilePosition)> { (NameOf(key.Key!), Place(_file, key.Key!.Span)) };
        path.AddRange(key.DotKeys.Select(dotted => (NameOf(dotted.Key!), Place(_file, dotted.Key!.Span))));
        return path;
    }

    private static string NameOf(BareKeyOrStringValueSyntax key) => key switch
    {
        StringValueSyntax text => text.Value ?? string.Empty,
        BareKeySyntax bare => bare.Key?.Text ?? string.Empty,
        _ => string.Empty,
    };

    private static FilePosition Place(string file, SourceSpan span) => new(file, span.Start.Line + 1, span.Start.Column + 1);
}
