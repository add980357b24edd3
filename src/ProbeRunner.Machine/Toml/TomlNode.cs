namespace ProbeRunner.Machine.Toml;

/// <summary>A value in a TOML file, with its place.</summary>
internal abstract record TomlNode(FilePosition Where);

/// <summary>Text, a number (long or double), true or false.</summary>
internal sealed record TomlScalar(FilePosition Where, object Content) : TomlNode(Where);

/// <summary>A list of values, or of tables.</summary>
internal sealed record TomlList(FilePosition Where, List<TomlNode> Items) : TomlNode(Where);

/// <summary>Keys with values, in file order.</summary>
internal sealed record TomlTable(FilePosition Where, Dictionary<string, TomlEntry> Entries) : TomlNode(Where);

/// <summary>One key of a table, with the place of the key.</summary>
internal sealed record TomlEntry(FilePosition Where, TomlNode Value);
