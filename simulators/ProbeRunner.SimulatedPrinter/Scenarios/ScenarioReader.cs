namespace ProbeRunner.SimulatedPrinter.Scenarios;

/// <summary>Reads values by key with a default, and remembers every fault and every key that was asked for.</summary>
internal sealed class ScenarioReader(TomlValues values)
{
    private readonly HashSet<string> _known = new(StringComparer.Ordinal);
    private readonly List<string> _faults = [];

    public double Number(string key, double least, double most, double otherwise)
    {
        var accepted = FormattableString.Invariant($"a number from {least} to {most}");
        return Find(key) switch
        {
            null => otherwise,
            { Content: double number } when number >= least && number <= most => number,
            var wrong => Wrong(wrong, key, accepted, otherwise),
        };
    }

    public int Whole(string key, int least, int most, int otherwise)
    {
        var accepted = FormattableString.Invariant($"a whole number from {least} to {most}");
        return Find(key) switch
        {
            null => otherwise,
            { Content: double number } when number >= least && number <= most && number % 1 == 0 => (int)number,
            var wrong => Wrong(wrong, key, accepted, otherwise),
        };
    }

    public bool Flag(string key, bool otherwise) => Find(key) switch
    {
        null => otherwise,
        { Content: bool flag } => flag,
        var wrong => Wrong(wrong, key, "true or false", otherwise),
    };

    public string Text(string key, string otherwise) => Find(key) switch
    {
        null => otherwise,
        { Content: string text } => text,
        var wrong => Wrong(wrong, key, "text in quotes", otherwise),
    };

    public T OneOf<T>(string key, T otherwise, params (string Word, T Meaning)[] words)
    {
        var found = Find(key);
        if (found is null)
        {
            return otherwise;
        }

        var match = words.Where(word => word.Word.Equals(found.Content)).ToList();
        return match.Count == 1
            ? match[0].Meaning
            : Wrong(found, key, "one of " + string.Join(", ", words.Select(word => $"\"{word.Word}\"")), otherwise);
    }

    /// <summary>A list of so many numbers.</summary>
    public double[] Numbers(string key, string meaning, double[] otherwise) => Find(key) switch
    {
        null => otherwise,
        { Content: List<object> list } when IsNumbers(list, otherwise.Length) => [.. list.Cast<double>()],
        var wrong => Wrong(wrong, key, $"[{meaning}]", otherwise),
    };

    /// <summary>A list of lists of so many numbers.</summary>
    public List<double[]> NumberLists(string key, string meaning, int count) => Find(key) switch
    {
        null => [],
        { Content: List<object> lists } when lists.All(item => item is List<object> list && IsNumbers(list, count)) =>
            [.. lists.Cast<List<object>>().Select(list => list.Cast<double>().ToArray())],
        var wrong => Wrong<List<double[]>>(wrong, key, $"[[{meaning}], ...]", []),
    };

    /// <summary>How many tables a list of tables has.</summary>
    public int Tables(string key)
    {
        var count = 0;
        while (values.All.Keys.Any(name => name.StartsWith(FormattableString.Invariant($"{key}.{count}."), StringComparison.Ordinal)))
        {
            count++;
        }

        return count;
    }

    /// <summary>Ends the reading.</summary>
    /// <exception cref="ScenarioException">Something was wrong, or a key was never asked for.</exception>
    public void Finish()
    {
        foreach (var (key, value) in values.All.Where(pair => !_known.Contains(pair.Key)))
        {
            var nearest = _known.MinBy(known => (EditDistance(key, known), known));
            _faults.Add($"{value.Place}: unknown key {key}; the nearest known one is {nearest}");
        }

        if (_faults.Count > 0)
        {
            throw new ScenarioException(string.Join('\n', _faults));
        }
    }

    private TomlValue? Find(string key)
    {
        _known.Add(key);
        return values.All.GetValueOrDefault(key);
    }

    private T Wrong<T>(TomlValue value, string key, string accepted, T otherwise)
    {
        var shown = value.Content is List<object> ? "a list" : FormattableString.Invariant($"{value.Content}");
        _faults.Add($"{value.Place}: {key} is {shown}; accepted is {accepted}");
        return otherwise;
    }

    private static bool IsNumbers(List<object> list, int count) => list.Count == count && list.All(item => item is double);

    // Levenshtein's distance, one row at a time.
    private static int EditDistance(string one, string other)
    {
        var row = Enumerable.Range(0, other.Length + 1).ToArray();
        for (var i = 1; i <= one.Length; i++)
        {
            var diagonal = row[0];
            row[0] = i;
            for (var j = 1; j <= other.Length; j++)
            {
                var replace = diagonal + (one[i - 1] == other[j - 1] ? 0 : 1);
                diagonal = row[j];
                row[j] = Math.Min(replace, Math.Min(row[j], row[j - 1]) + 1);
            }
        }

        return row[^1];
    }
}
