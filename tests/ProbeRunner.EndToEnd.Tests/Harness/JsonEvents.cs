using System.Text.Json;

namespace ProbeRunner.EndToEnd.Tests.Harness;

/// <summary>What a run told as JSON lines.</summary>
internal static class JsonEvents
{
    /// <summary>Every reading in order.</summary>
    public static IEnumerable<(double X, double Y, double Z)> Readings(string output) =>
        Named(output, "reading").Select(reading => (Number(reading, "x"), Number(reading, "y"), Number(reading, "z")));

    /// <summary>Every event of a name, in order.</summary>
    public static IEnumerable<JsonElement> Named(string output, string name) =>
        output.Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Select(line => JsonDocument.Parse(line).RootElement)
            .Where(told => told.GetProperty("event").GetString() == name);

    private static double Number(JsonElement told, string key) => told.GetProperty(key).GetDouble();
}
