using System.Collections.Immutable;
using ProbeRunner.Console.Commands;
using ProbeRunner.Machine.Profiles;

namespace ProbeRunner.Console.Wiring;

/// <summary>Where the program looks for files that people edit, and where it keeps its own.</summary>
internal static class ProgramFolders
{
    private const string Name = "proberunner";

    /// <summary>Machines, dialects and run scripts: the person's own folder first, then those shipped with the program.</summary>
    public static ProfileCatalogue Profiles(ProgramContext context) => new(
        [Own(context), Path.Combine(context.ProgramFolder, "profiles")]);

    /// <summary>The person's own folder: what they edit, and what the screens remember.</summary>
    public static string Own(ProgramContext context) => Path.Combine(ConfigurationFolder(context), Name);

    /// <summary>Scenarios of the simulated printer shipped with the program.</summary>
    public static string Scenarios(ProgramContext context) => Path.Combine(context.ProgramFolder, "scenarios");

    /// <summary>Names of the scenarios shipped, sorted.</summary>
    public static ImmutableArray<string> ScenarioNames(ProgramContext context) =>
        Directory.Exists(Scenarios(context))
            ? [.. Directory.EnumerateFiles(Scenarios(context), "*.toml").Select(Path.GetFileNameWithoutExtension).Order(StringComparer.Ordinal)!]
            : [];

    private static string ConfigurationFolder(ProgramContext context) =>
        context.Environment("XDG_CONFIG_HOME") is { Length: > 0 } configured
            ? configured
            : Environment.GetFolderPath(Environment.SpecialFolder.ApplicationData, Environment.SpecialFolderOption.DoNotVerify);
}
