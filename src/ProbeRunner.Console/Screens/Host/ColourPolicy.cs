using System.Globalization;
using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Screens.Host;

/// <summary>
/// Decides how roles look from what was asked for and what the terminal says of itself. What is asked for wins, then <c>NO_COLOR</c>
/// (no-color.org), then <c>TERM</c> and <c>COLORTERM</c>; no library's guess is taken.
/// </summary>
internal static class ColourPolicy
{
    /// <summary>The palette for a terminal.</summary>
    /// <param name="options">What was asked for.</param>
    /// <param name="environment">An environment variable; null when it is not set.</param>
    public static Palette For(ScreenOptions options, Func<string, string?> environment) =>
        new(Depth(options, environment), IsDark(options, environment), options.Ascii || !SpeaksUnicode(environment));

    private static ColourDepth Depth(ScreenOptions options, Func<string, string?> environment)
    {
        var term = environment("TERM") ?? string.Empty;
        return options.Colour switch
        {
            "never" => ColourDepth.Monochrome,
            "16" => ColourDepth.Sixteen,
            "true" => ColourDepth.True,
            _ when !string.IsNullOrEmpty(environment("NO_COLOR")) => ColourDepth.Monochrome,
            _ when environment("COLORTERM") is "truecolor" or "24bit" => ColourDepth.True,
            _ when IsWithoutColour(term) => ColourDepth.Monochrome,

            // A session over ssh loses COLORTERM; terminals that call themselves 256-coloured take true colour or bring it to their nearest.
            _ when term.EndsWith("-256color", StringComparison.Ordinal) || term.EndsWith("-direct", StringComparison.Ordinal) => ColourDepth.True,
            _ when OperatingSystem.IsWindows() => ColourDepth.True,
            _ => ColourDepth.Sixteen,
        };
    }

    private static bool IsWithoutColour(string term) =>
        term is "dumb" or "vt100" or "vt102" or "vt220" or "ansi-m" || term.EndsWith("-mono", StringComparison.Ordinal) || term.EndsWith("-m", StringComparison.Ordinal);

    /// <summary>Some terminals tell their colours as "text;ground", numbered as the sixteen are; 7 and 9 to 15 are light grounds.</summary>
    private static bool IsDark(ScreenOptions options, Func<string, string?> environment) => options.Ground switch
    {
        "dark" => true,
        "light" => false,
        _ => !(environment("COLORFGBG")?.Split(';')[^1] is { } ground
            && int.TryParse(ground, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number is 7 or >= 9 and <= 15),
    };

    private static bool SpeaksUnicode(Func<string, string?> environment)
    {
        var locale = new[] { "LC_ALL", "LC_CTYPE", "LANG" }.Select(environment).FirstOrDefault(value => !string.IsNullOrEmpty(value));
        return locale is null || locale.Contains("utf", StringComparison.OrdinalIgnoreCase);
    }
}
