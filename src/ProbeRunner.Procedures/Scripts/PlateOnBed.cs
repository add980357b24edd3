using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Procedures.Scripts;

/// <summary>What is known, before a run begins, of the plate (sheet) that lies on the bed. It travels in the script's text, so that the record says it.</summary>
/// <param name="Stated">Its name, as the script or the command line says; empty when the person is to be asked.</param>
/// <param name="Last">The plate that this machine's runs had on record last; empty when there was none.</param>
public sealed record PlateOnBed(string Stated, string Last)
{
    /// <summary>Key of the plate's name.</summary>
    internal const string Key = "plate";

    /// <summary>Key of the last plate's name.</summary>
    internal const string LastKey = "last_plate";

    /// <summary>Nothing is known.</summary>
    public static PlateOnBed Unknown { get; } = new(string.Empty, string.Empty);

    /// <summary>The parameter that says the last plate, as a run script takes it.</summary>
    public static string LastParameter(string plate) => $"{LastKey}={plate}";

    /// <summary>Keys at the script's top: <c>plate</c>, up to 40 characters, and <c>last_plate</c>.</summary>
    internal static PlateOnBed Read(TomlSection root) => new(Name(root, Key), Name(root, LastKey));

    private static string Name(TomlSection root, string key)
    {
        string name = root.Text(key, string.Empty).Trim();
        if (name.Length > AnswerCheck.LongestText || name.Any(char.IsControl))
        {
            root.Refuse(key, "this is no name for a plate", FormattableString.Invariant($"a short name is accepted, up to {AnswerCheck.LongestText} characters, for example \"smooth\""));
            return string.Empty;
        }

        return name;
    }
}
