namespace ProbeRunner.Machine.Toml;

/// <summary>
/// Reads a TOML file that a person edits, strictly: every key must be known, every value of the right kind and in range, and every
/// fault is named with its place. Read what is expected from <see cref="Root"/>, then call <see cref="Finish"/>.
/// </summary>
public sealed class TomlFile
{
    /// <summary>Larger files are refused: no file of ours comes near.</summary>
    private const int LargestBytes = 1 << 20;

    private TomlFile(string name, string text, TomlTable table, FaultList faults)
    {
        Name = name;
        Text = text;
        Faults = faults;
        Root = new TomlSection(table, string.Empty, faults);
    }

    /// <summary>The file as the person named it.</summary>
    public string Name { get; }

    /// <summary>The text as read, to be kept with a run.</summary>
    public string Text { get; }

    /// <summary>What is wrong so far.</summary>
    public FaultList Faults { get; }

    /// <summary>The keys at the top of the file.</summary>
    public TomlSection Root { get; }

    /// <summary>Parses a text.</summary>
    /// <param name="text">The TOML text.</param>
    /// <param name="name">What to call it in messages.</param>
    /// <exception cref="FileFaultException">It is not TOML.</exception>
    public static TomlFile Parse(string text, string name)
    {
        ArgumentNullException.ThrowIfNull(text);
        var faults = new FaultList();
        TomlTable? table = TomlTree.Parse(text, name, faults);
        faults.ThrowIfAny();
        return new TomlFile(name, text, table!, faults);
    }

    /// <summary>Reads and parses a file.</summary>
    /// <param name="path">Where it is.</param>
    /// <exception cref="FileFaultException">It is missing, unreadable, too large, not UTF-8 or not TOML.</exception>
    public static TomlFile Load(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        return Parse(TextFile.Read(path, LargestBytes), path);
    }

    /// <summary>Ends the reading: keys that nobody asked for are faults.</summary>
    /// <exception cref="FileFaultException">Something was wrong; all of it is named.</exception>
    public void Finish()
    {
        Root.RefuseUnknownKeys();
        Faults.ThrowIfAny();
    }
}
