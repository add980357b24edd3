using System.Globalization;

namespace ProbeRunner.Records.Store;

/// <summary>Names of runs: date and time (UTC), then three letters; they sort by start and are short enough to type.</summary>
public static class RunId
{
    // No vowels, so that no words come out, and nothing that looks like a digit.
    private const string Letters = "bcdfghjkmnpqrstvwxz";

    /// <summary>A new name, such as <c>20261125-1430-kqv</c>.</summary>
    /// <param name="startedAt">When the run begins.</param>
    /// <param name="chance">Where the letters come from.</param>
    public static string New(DateTimeOffset startedAt, Random chance)
    {
        ArgumentNullException.ThrowIfNull(chance);
        string letters = new(chance.GetItems<char>(Letters, 3));
        return startedAt.UtcDateTime.ToString("yyyyMMdd-HHmm-", CultureInfo.InvariantCulture) + letters;
    }

    /// <summary>Whether a text can be a run's name; anything else is refused before it becomes part of a file name.</summary>
    public static bool IsValid(string text) =>
        text is { Length: > 0 and <= 64 } && text.All(character => char.IsAsciiLetterOrDigit(character) || character is '-' or '_');
}
