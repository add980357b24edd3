using System.Collections.Immutable;
using System.Globalization;

namespace ProbeRunner.Machine.Toml;

/// <summary>
/// The keys of one table. Each reader names a key that is accepted; a missing or wrong value is added to the faults and a harmless
/// stand-in returned, so that reading goes on and all faults are found. Cross-checks belong behind <see cref="IsSound"/>.
/// </summary>
public sealed class TomlSection
{
    private readonly TomlTable _table;
    private readonly FaultList _faults;
    private readonly SortedSet<string> _known = new(StringComparer.Ordinal);
    private readonly Dictionary<string, ImmutableArray<TomlSection>> _opened = new(StringComparer.Ordinal);

    internal TomlSection(TomlTable table, string path, FaultList faults)
    {
        _table = table;
        Path = path;
        _faults = faults;
    }

    /// <summary>The section's dotted name; empty at the top of the file.</summary>
    public string Path { get; }

    /// <summary>Where the section begins.</summary>
    public FilePosition Where => _table.Where;

    /// <summary>Whether nothing was wrong so far in the whole file.</summary>
    public bool IsSound => !_faults.Any;

    /// <summary>The keys as written, in file order.</summary>
    public IEnumerable<string> Keys => _table.Entries.Keys;

    /// <summary>Whether a key is there.</summary>
    public bool Has(string key) => _table.Entries.ContainsKey(key);

    /// <summary>Where a key is, or where its section begins when it is missing.</summary>
    public FilePosition WhereOf(string key) => _table.Entries.TryGetValue(key, out TomlEntry? entry) ? entry.Value.Where : Where;

    /// <summary>Adds a fault at a key.</summary>
    public void Refuse(string key, string wrong, string accepted = "") => _faults.Add(WhereOf(key), wrong, accepted);

    /// <summary>Adds a fault at a place in this section.</summary>
    public void RefuseAt(FilePosition where, string wrong, string accepted = "") => _faults.Add(where, wrong, accepted);

    /// <summary>Text.</summary>
    /// <param name="key">The key.</param>
    /// <param name="otherwise">The value when the key is missing; without one the key is required.</param>
    public string Text(string key, string? otherwise = null) => Find(key, "text in quotes", otherwise is null) switch
    {
        null => otherwise ?? string.Empty,
        TomlScalar { Content: string text } => text,
        TomlNode other => Wrong(key, other, "text in quotes", string.Empty),
    };

    /// <summary>A number within a range, both ends included; never infinite, never NaN.</summary>
    /// <param name="key">The key.</param>
    /// <param name="least">The smallest accepted.</param>
    /// <param name="most">The largest accepted.</param>
    /// <param name="otherwise">The value when the key is missing; without one the key is required.</param>
    public double Number(string key, double least, double most, double? otherwise = null)
    {
        string accepted = FormattableString.Invariant($"a number from {least} to {most}");
        return Find(key, accepted, otherwise is null) is TomlNode node ? NumberOf(key, node, least, most, accepted) : otherwise ?? least;
    }

    /// <summary>A whole number within a range, both ends included.</summary>
    /// <param name="key">The key.</param>
    /// <param name="least">The smallest accepted.</param>
    /// <param name="most">The largest accepted.</param>
    /// <param name="otherwise">The value when the key is missing; without one the key is required.</param>
    public int Whole(string key, int least, int most, int? otherwise = null)
    {
        string accepted = FormattableString.Invariant($"a whole number from {least} to {most}");
        return Find(key, accepted, otherwise is null) switch
        {
            null => otherwise ?? least,
            TomlScalar { Content: long whole } when whole >= least && whole <= most => (int)whole,
            TomlNode other => Wrong(key, other, accepted, least),
        };
    }

    /// <summary>True or false.</summary>
    /// <param name="key">The key.</param>
    /// <param name="otherwise">The value when the key is missing; without one the key is required.</param>
    public bool Flag(string key, bool? otherwise = null) => Find(key, "true or false", otherwise is null) switch
    {
        null => otherwise ?? false,
        TomlScalar { Content: bool flag } => flag,
        TomlNode other => Wrong(key, other, "true or false", false),
    };

    /// <summary>One of a few words.</summary>
    /// <param name="key">The key.</param>
    /// <param name="words">The words and what they mean; at least one.</param>
    /// <param name="otherwise">The word when the key is missing; without one the key is required.</param>
    public T OneOf<T>(string key, IReadOnlyDictionary<string, T> words, string? otherwise = null)
    {
        ArgumentNullException.ThrowIfNull(words);
        string accepted = "one of " + string.Join(", ", words.Keys.Select(word => $"\"{word}\""));
        TomlNode? node = Find(key, accepted, otherwise is null);
        if (node is null)
        {
            return otherwise is null ? words.Values.First() : words[otherwise];
        }

        if (node is TomlScalar { Content: string word })
        {
            if (words.TryGetValue(word, out T? meaning))
            {
                return meaning;
            }

            if (NearestWord.Among(word, words.Keys) is string near)
            {
                accepted += $"; did you mean \"{near}\"?";
            }
        }

        return Wrong(key, node, accepted, words.Values.First());
    }

    /// <summary>A list of so many numbers, each within a range.</summary>
    /// <param name="key">The key.</param>
    /// <param name="meaning">What they are, for the message: "min x, min y, max x, max y".</param>
    /// <param name="count">How many.</param>
    /// <param name="least">The smallest accepted.</param>
    /// <param name="most">The largest accepted.</param>
    /// <param name="otherwise">The value when the key is missing; without one the key is required.</param>
    public ImmutableArray<double> Numbers(
        string key, string meaning, int count, double least, double most, ImmutableArray<double>? otherwise = null)
    {
        string accepted = FormattableString.Invariant($"a list of {count} numbers from {least} to {most}: [{meaning}]");
        TomlNode? node = Find(key, accepted, otherwise is null);
        return node is null ? otherwise ?? StandIn(count, least) : NumbersOf(key, node, count, least, most, accepted);
    }

    /// <summary>A list of lists of so many numbers, each within a range; empty when the key is missing.</summary>
    /// <param name="key">The key.</param>
    /// <param name="meaning">What the inner numbers are.</param>
    /// <param name="count">How many in each.</param>
    /// <param name="least">The smallest accepted.</param>
    /// <param name="most">The largest accepted.</param>
    public ImmutableArray<ImmutableArray<double>> NumberLists(string key, string meaning, int count, double least, double most)
    {
        string accepted = FormattableString.Invariant($"a list of lists of {count} numbers from {least} to {most}: [[{meaning}], ...]");
        return Find(key, accepted, required: false) switch
        {
            null => [],
            TomlList list => [.. list.Items.Select(item => NumbersOf(key, item, count, least, most, accepted))],
            TomlNode other => Wrong<ImmutableArray<ImmutableArray<double>>>(key, other, accepted, []),
        };
    }

    /// <summary>A list of texts; empty when the key is missing and not required.</summary>
    /// <param name="key">The key.</param>
    /// <param name="required">Whether it must be there.</param>
    public ImmutableArray<string> Texts(string key, bool required = false) => Find(key, "a list of texts in quotes", required) switch
    {
        null => [],
        TomlList list when list.Items.All(item => item is TomlScalar { Content: string }) =>
            [.. list.Items.Select(item => (string)((TomlScalar)item).Content)],
        TomlNode other => Wrong<ImmutableArray<string>>(key, other, "a list of texts in quotes", []),
    };

    /// <summary>One text, or a list of texts; empty when the key is missing and not required.</summary>
    /// <param name="key">The key.</param>
    /// <param name="required">Whether it must be there.</param>
    public ImmutableArray<string> TextOrTexts(string key, bool required = false) =>
        _table.Entries.TryGetValue(key, out TomlEntry? entry) && entry.Value is TomlScalar ? [Text(key)] : Texts(key, required);

    /// <summary>The place of each item of a list, for faults in one of them; empty when the key holds no list.</summary>
    public ImmutableArray<FilePosition> WhereOfItems(string key) =>
        _table.Entries.TryGetValue(key, out TomlEntry? entry) && entry.Value is TomlList list ? [.. list.Items.Select(item => item.Where)] : [];

    /// <summary>A table inside this one; when it is missing and required that is a fault, and the stand-in is empty.</summary>
    public TomlSection Section(string key, bool required = true)
    {
        if (_opened.TryGetValue(key, out ImmutableArray<TomlSection> opened))
        {
            return opened[0];
        }

        TomlNode? node = Find(key, $"a table [{Name(key)}]", required);
        TomlTable table = node as TomlTable ?? Stand(key, node);
        var section = new TomlSection(table, Name(key), node is TomlTable || !required ? _faults : new FaultList());
        _opened[key] = [section];
        return section;
    }

    /// <summary>A list of tables, <c>[[key]]</c>; empty when there are none.</summary>
    public ImmutableArray<TomlSection> Sections(string key)
    {
        if (_opened.TryGetValue(key, out ImmutableArray<TomlSection> opened))
        {
            return opened;
        }

        string accepted = $"tables [[{Name(key)}]]";
        return _opened[key] = Find(key, accepted, required: false) switch
        {
            null => [],
            TomlList list when list.Items.All(item => item is TomlTable) =>
                [.. list.Items.Select(item => new TomlSection((TomlTable)item, Name(key), _faults))],
            TomlNode other => Wrong<ImmutableArray<TomlSection>>(key, other, accepted, []),
        };
    }

    /// <summary>Takes the keys of another section over this one's: what a command line sets wins over the file.</summary>
    public void Override(TomlSection other)
    {
        ArgumentNullException.ThrowIfNull(other);
        foreach ((string key, TomlEntry entry) in other._table.Entries)
        {
            if (entry.Value is TomlTable inner && _table.Entries.TryGetValue(key, out TomlEntry? mine) && mine.Value is TomlTable table)
            {
                new TomlSection(table, Name(key), _faults).Override(new TomlSection(inner, Name(key), _faults));
            }
            else
            {
                _table.Entries[key] = entry;
            }
        }
    }

    internal void RefuseUnknownKeys()
    {
        foreach ((string key, TomlEntry entry) in _table.Entries.Where(entry => !_known.Contains(entry.Key)))
        {
            string where = Path.Length == 0 ? string.Empty : $" in [{Path}]";
            string? near = NearestWord.Among(key, _known.Where(known => !Has(known))) ?? NearestWord.Among(key, _known);
            string accepted = near is null ? "accepted are " + string.Join(", ", _known) : $"did you mean {near}?";
            _faults.Add(entry.Where, $"unknown key {Printable.Text(key)}{where}", accepted);
        }

        foreach (TomlSection section in _opened.Values.SelectMany(sections => sections))
        {
            section.RefuseUnknownKeys();
        }
    }

    private TomlNode? Find(string key, string accepted, bool required)
    {
        _known.Add(key);
        if (_table.Entries.TryGetValue(key, out TomlEntry? entry))
        {
            return entry.Value;
        }

        if (required)
        {
            string where = Path.Length == 0 ? string.Empty : $" in [{Path}]";
            _faults.Add(Where, $"the key {key} is missing{where}", $"it takes {accepted}");
        }

        return null;
    }

    private ImmutableArray<double> NumbersOf(string key, TomlNode node, int count, double least, double most, string accepted) =>
        node is TomlList list && list.Items.Count == count
            ? [.. list.Items.Select(item => NumberOf(key, item, least, most, accepted))]
            : Wrong(key, node, accepted, StandIn(count, least));

    private double NumberOf(string key, TomlNode node, double least, double most, string accepted)
    {
        double? number = (node as TomlScalar)?.Content switch { double real => real, long whole => whole, _ => null };
        return number >= least && number <= most ? number.Value : Wrong(key, node, accepted, least);
    }

    private T Wrong<T>(string key, TomlNode node, string accepted, T standIn)
    {
        _faults.Add(node.Where, $"{Name(key)} is {Shown(node)}", $"accepted is {accepted}");
        return standIn;
    }

    private TomlTable Stand(string key, TomlNode? wrong)
    {
        if (wrong is not null)
        {
            Wrong(key, wrong, $"a table [{Name(key)}]", 0);
        }

        return new TomlTable(Where, []);
    }

    private string Name(string key) => Path.Length == 0 ? key : $"{Path}.{key}";

    private static ImmutableArray<double> StandIn(int count, double least) => [.. Enumerable.Repeat(least, count)];

    private static string Shown(TomlNode node) => node switch
    {
        TomlScalar { Content: string text } => $"the text \"{Printable.Text(text)}\"",
        TomlScalar { Content: bool flag } => flag ? "true" : "false",
        TomlScalar scalar => string.Create(CultureInfo.InvariantCulture, $"{scalar.Content}"),
        TomlList list => string.Create(CultureInfo.InvariantCulture, $"a list of {list.Items.Count}"),
        _ => "a table",
    };
}
