namespace ProbeRunner.Machine.Toml;

/// <summary>One thing wrong in a file that a person edits.</summary>
/// <param name="Where">The place.</param>
/// <param name="Wrong">What is wrong, printable.</param>
/// <param name="Accepted">What is accepted instead, printable; empty when that goes without saying.</param>
public sealed record FileFault(FilePosition Where, string Wrong, string Accepted)
{
    /// <inheritdoc />
    public override string ToString() => Accepted.Length == 0 ? $"{Where}: {Wrong}" : $"{Where}: {Wrong}; {Accepted}";
}
