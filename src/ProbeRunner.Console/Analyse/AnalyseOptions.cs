using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Console.Analyse;

/// <summary>Options that several kinds of analysis share.</summary>
internal static class AnalyseOptions
{
    /// <summary>One JSON object instead of tables for people.</summary>
    public static Option<bool> Json() => new("--json") { Description = "Print one JSON object instead of text." };

    /// <summary>A number with a decimal point in any culture; null when it is not given.</summary>
    /// <param name="name">With its dashes.</param>
    /// <param name="unit">What the help shows for the value.</param>
    /// <param name="description">For the help.</param>
    /// <param name="above">The value must be larger.</param>
    public static Option<double?> Number(string name, string unit, string description, double above = double.NegativeInfinity) => new(name)
    {
        Description = description,
        HelpName = unit,
        CustomParser = result => Parse(name, result, above),
    };

    /// <summary>What was given for such an option, for checks made before the values are there; null when nothing or no number was.</summary>
    public static double? Given(SymbolResult command, Option<double?> option) =>
        command.GetResult(option) is { Tokens: [{ Value: var text }] } ? NumberIn(text) : null;

    private static double? NumberIn(string text) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number) ? number : null;

    private static double? Parse(string name, ArgumentResult result, double above)
    {
        string given = result.Tokens.Count == 1 ? result.Tokens[0].Value : string.Empty;
        if (NumberIn(given) is { } number && number > above)
        {
            return number;
        }

        string range = double.IsFinite(above) ? FormattableString.Invariant($" above {above}") : string.Empty;
        result.AddError($"{name} takes a number{range} with a decimal point; \"{Printable.Text(given)}\" is none.");
        return null;
    }
}
