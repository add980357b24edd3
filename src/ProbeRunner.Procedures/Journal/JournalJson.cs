using System.Text.Json;
using System.Text.Json.Serialization;

namespace ProbeRunner.Procedures.Journal;

/// <summary>
/// How everything in a journal is written as JSON: camel case, enumerations by name, invariant numbers that read back to the last bit.
/// NaN and infinity are refused, so a row never holds a number that is not one.
/// </summary>
public static class JournalJson
{
    /// <summary>The one set of options; writer and reader share it.</summary>
    public static JsonSerializerOptions Options { get; } = Create();

    /// <summary>Writes a payload.</summary>
    public static string Write<T>(T payload) => JsonSerializer.Serialize(payload, Options);

    /// <summary>Reads a payload back.</summary>
    /// <exception cref="JsonException">The text is not a payload of that type.</exception>
    public static T Read<T>(string text) =>
        JsonSerializer.Deserialize<T>(text, Options) ?? throw new JsonException($"An empty payload where {typeof(T).Name} was expected.");

    private static JsonSerializerOptions Create()
    {
        var options = new JsonSerializerOptions
        {
            PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
            IgnoreReadOnlyProperties = true,
            AllowOutOfOrderMetadataProperties = true,
            Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
        };
        options.MakeReadOnly(populateMissingResolver: true);
        return options;
    }
}
