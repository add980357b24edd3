using System.Text.Json;

namespace ProbeRunner.Console.Analyse.Results;

/// <summary>Writes a result as one JSON object on one line.</summary>
internal static class JsonOutput
{
    private static readonly JsonSerializerOptions Options = new() { PropertyNamingPolicy = JsonNamingPolicy.CamelCase };

    /// <summary>Writes the object; its default encoder shows control characters and all but plain ASCII as escapes.</summary>
    public static void Write(TextWriter output, object result) => output.WriteLine(JsonSerializer.Serialize(result, Options));
}
