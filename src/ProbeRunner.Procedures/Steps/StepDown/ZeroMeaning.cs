using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Steps.StepDown;

/// <summary>The parameter <c>zero_means</c>: what the nozzle does at Z = 0 with the offset, "touching" (unless said otherwise) or "paper" (the paper just drags).</summary>
internal static class ZeroMeaning
{
    public const string Touching = "touching";
    public const string Paper = "paper";

    private static readonly Dictionary<string, string> Words = new(StringComparer.Ordinal) { [Touching] = Touching, [Paper] = Paper };

    /// <summary>Reads it.</summary>
    public static string Read(TomlSection section) => section.OneOf("zero_means", Words, Touching);
}
