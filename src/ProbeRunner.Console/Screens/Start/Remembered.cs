using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Console.Screens.Start;

/// <summary>What the screens remember from one day to the next, in a small file in the person's own folder.</summary>
/// <param name="Machine">The machine used last; empty for none.</param>
/// <param name="Port">The port used last, by its stable name; empty for none.</param>
/// <param name="Visited">Whether the guided first visit was taken or declined.</param>
internal sealed record Remembered(string Machine = "", string Port = "", bool Visited = false)
{
    /// <summary>Reads it; what cannot be read counts as nothing remembered.</summary>
    public static Remembered Load(ProgramContext context)
    {
        try
        {
            var file = TomlFile.Load(PathOf(context)).Root;
            return new Remembered(file.Text("machine", string.Empty), file.Text("port", string.Empty), file.Flag("visited", false));
        }
        catch (Exception failure) when (failure is FileFaultException or IOException or UnauthorizedAccessException)
        {
            return new Remembered();
        }
    }

    /// <summary>Keeps it.</summary>
    /// <returns>Why it could not be kept; null when it was.</returns>
    public string? Save(ProgramContext context)
    {
        try
        {
            Directory.CreateDirectory(ProgramFolders.Own(context));
            File.WriteAllText(PathOf(context), $"# What the bench screens remember.\nmachine = {Quoted(Machine)}\nport = {Quoted(Port)}\nvisited = {(Visited ? "true" : "false")}\n");
            return null;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return $"What was chosen could not be remembered: {failure.Message}";
        }
    }

    private static string PathOf(ProgramContext context) => Path.Combine(ProgramFolders.Own(context), "screens.toml");

    private static string Quoted(string text) =>
        "\"" + text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal) + "\"";
}
