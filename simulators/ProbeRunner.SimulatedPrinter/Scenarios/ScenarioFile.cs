using System.Collections.Immutable;
using System.Reflection;

namespace ProbeRunner.SimulatedPrinter.Scenarios;

/// <summary>
/// Finds and reads scenario files. A scenario names its machine, whose file is read first; its own values win. The shipped files
/// are inside the program, so that they are always there.
/// </summary>
public static class ScenarioFile
{
    private const string ScenarioPrefix = "scenario:";
    private const string MachinePrefix = "machine:";

    /// <summary>The names of the shipped scenarios, sorted.</summary>
    public static ImmutableArray<string> Shipped { get; } =
    [
        .. typeof(ScenarioFile).Assembly.GetManifestResourceNames()
            .Where(name => name.StartsWith(ScenarioPrefix, StringComparison.Ordinal))
            .Select(name => name[ScenarioPrefix.Length..]).Order(StringComparer.Ordinal),
    ];

    /// <summary>Reads a shipped scenario by name, or a file by path.</summary>
    /// <param name="nameOrPath">"good" and the like, or the path of a TOML file.</param>
    /// <exception cref="ScenarioException">There is none, or it cannot be used.</exception>
    public static Scenario Load(string nameOrPath)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(nameOrPath);
        if (ReadShipped(ScenarioPrefix + nameOrPath) is { } shipped)
        {
            return Parse(shipped, nameOrPath);
        }

        try
        {
            return Parse(File.ReadAllText(nameOrPath), nameOrPath);
        }
        catch (Exception missing) when (missing is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw new ScenarioException(
                $"{nameOrPath}: there is no such scenario and no such file; shipped are {string.Join(", ", Shipped)}");
        }
    }

    /// <summary>Reads a scenario from a text.</summary>
    /// <param name="text">TOML.</param>
    /// <param name="name">What to call it, in messages and as the scenario's name; a path is shortened for the latter.</param>
    /// <exception cref="ScenarioException">It cannot be used.</exception>
    public static Scenario Parse(string text, string name)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(name);
        var own = new TomlValues();
        own.Add(text, name);
        var machine = own.All.GetValueOrDefault("machine")?.Content as string ?? "wren-240";
        var values = new TomlValues();
        values.Add(ReadShipped(MachinePrefix + machine) ?? throw UnknownMachine(own, machine), machine + ".toml");
        values.Add(text, name);
        return ScenarioKeys.Read(new ScenarioReader(values), Path.GetFileNameWithoutExtension(name));
    }

    private static ScenarioException UnknownMachine(TomlValues values, string machine)
    {
        var known = typeof(ScenarioFile).Assembly.GetManifestResourceNames()
            .Where(name => name.StartsWith(MachinePrefix, StringComparison.Ordinal)).Select(name => name[MachinePrefix.Length..]).Order();
        return new ScenarioException(
            $"{values.All["machine"].Place}: there is no simulated machine {machine}; known are {string.Join(", ", known)}");
    }

    private static string? ReadShipped(string resource)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(resource);
        if (stream is null)
        {
            return null;
        }

        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
