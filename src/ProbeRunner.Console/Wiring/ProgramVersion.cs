using System.Reflection;

namespace ProbeRunner.Console.Wiring;

/// <summary>The program's version, for the record.</summary>
internal static class ProgramVersion
{
    /// <summary>Such as "0.1.0".</summary>
    public static string Text { get; } =
        typeof(ProgramVersion).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion.Split('+')[0] ?? "unknown";
}
