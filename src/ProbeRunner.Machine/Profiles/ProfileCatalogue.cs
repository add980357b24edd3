using System.Collections.Immutable;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Machine.Profiles;

/// <summary>Finds machines, dialects and run scripts by name in a few folders, or by path.</summary>
/// <param name="folders">Folders that hold <c>machines/</c>, <c>dialects/</c> and <c>runs/</c>; the first that has a name wins.</param>
public sealed class ProfileCatalogue(ImmutableArray<string> folders)
{
    private const string Extension = ".toml";

    /// <summary>The names there are of a kind, sorted, each once.</summary>
    public ImmutableArray<string> Names(ProfileKind kind) =>
    [
        .. folders
            .Select(folder => Path.Combine(folder, FolderOf(kind)))
            .Where(Directory.Exists)
            .SelectMany(folder => Directory.EnumerateFiles(folder, "*" + Extension))
            .Select(file => Path.GetFileNameWithoutExtension(file))
            .Distinct(StringComparer.Ordinal)
            .Order(StringComparer.Ordinal),
    ];

    /// <summary>The path of a file of a kind.</summary>
    /// <param name="kind">The kind.</param>
    /// <param name="nameOrPath">A name without extension, or a path (it has a folder separator or ends in .toml).</param>
    /// <exception cref="FileFaultException">There is none of that name; the message names the nearest and those there are.</exception>
    public string Locate(ProfileKind kind, string nameOrPath)
    {
        ArgumentException.ThrowIfNullOrEmpty(nameOrPath);
        if (IsPath(nameOrPath))
        {
            return nameOrPath;
        }

        string? found = folders
            .Select(folder => Path.Combine(folder, FolderOf(kind), nameOrPath + Extension))
            .FirstOrDefault(File.Exists);
        return found ?? throw NotFound(kind, nameOrPath);
    }

    /// <summary>Reads a machine.</summary>
    /// <exception cref="FileFaultException">It is missing or wrong; every fault is named with its place.</exception>
    public MachineProfile Machine(string nameOrPath) => ProfileReader.Read(TomlFile.Load(Locate(ProfileKind.Machine, nameOrPath)));

    /// <summary>Reads a dialect.</summary>
    /// <exception cref="FileFaultException">It is missing or wrong; every fault is named with its place.</exception>
    public Dialect Dialect(string nameOrPath) => DialectReader.Read(TomlFile.Load(Locate(ProfileKind.Dialect, nameOrPath)));

    private static bool IsPath(string nameOrPath) =>
        nameOrPath.EndsWith(Extension, StringComparison.Ordinal) || nameOrPath.AsSpan().IndexOfAny('/', '\\') >= 0;

    private static string FolderOf(ProfileKind kind) => kind switch
    {
        ProfileKind.Machine => "machines",
        ProfileKind.Dialect => "dialects",
        _ => "runs",
    };

    private FileFaultException NotFound(ProfileKind kind, string name)
    {
        ImmutableArray<string> names = Names(kind);
        string what = kind switch { ProfileKind.Machine => "machine", ProfileKind.Dialect => "dialect", _ => "run script" };
        string accepted = NearestWord.Among(name, names) is string near ? $"did you mean {near}? " : string.Empty;
        accepted += names.IsEmpty
            ? "none is installed: give the path of a file"
            : $"there are {string.Join(", ", names)}, or give the path of a file";
        return new FileFaultException(
            [new FileFault(FilePosition.Whole(Printable.Text(name)), $"there is no {what} of that name", accepted)]);
    }
}
