using System.Globalization;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Console.Analyse.Tables;

/// <summary>One field of a table.</summary>
/// <param name="Text">What it holds, quotes and outer spaces taken off.</param>
/// <param name="Where">Where it begins.</param>
internal readonly record struct Cell(string Text, FilePosition Where)
{
    /// <summary>The finite number that the field holds, decimal point, whatever the culture; null when it holds none.</summary>
    public double? Number => double.TryParse(Text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number)
        ? number
        : null;

    /// <summary>
    /// Whether the field can be the name of a column. It must begin with a letter, so that a mistyped number in the first row is
    /// never taken for a heading and lost, and must not be the word of a number that is none.
    /// </summary>
    public bool IsName => Text.Length > 0 && (char.IsLetter(Text[0]) || Text[0] == '_')
        && !double.TryParse(Text, NumberStyles.Float, CultureInfo.InvariantCulture, out _)
        && !Text.Equals("inf", StringComparison.OrdinalIgnoreCase);
}
