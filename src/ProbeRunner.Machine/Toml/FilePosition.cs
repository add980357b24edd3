namespace ProbeRunner.Machine.Toml;

/// <summary>A place in a text file.</summary>
/// <param name="File">The file as the person named it.</param>
/// <param name="Line">From 1; 0 when the file as a whole is meant.</param>
/// <param name="Column">From 1; 0 when the file as a whole is meant.</param>
public readonly record struct FilePosition(string File, int Line, int Column)
{
    /// <summary>The file as a whole.</summary>
    public static FilePosition Whole(string file) => new(file, 0, 0);

    /// <inheritdoc />
    public override string ToString() => Line == 0 ? File : FormattableString.Invariant($"{File}:{Line}:{Column}");
}
