using System.Globalization;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Console.Analyse.Results;

/// <summary>How numbers and names are written for people: decimal point in any culture, never NaN, nothing that acts.</summary>
internal static class Figure
{
    /// <summary>Six significant digits; "none" where there is no number.</summary>
    public static string Of(double? number) => number is { } value && double.IsFinite(value)
        ? value.ToString("G6", CultureInfo.InvariantCulture)
        : "none";

    /// <summary>A p-value with its sign, four decimals: <c>p = 0.0123</c>, or <c>p &lt; 0.0001</c> rather than a chance of nothing.</summary>
    public static string Chance(double p) => p < 0.0001 ? "p < 0.0001" : "p = " + p.ToString("0.0000", CultureInfo.InvariantCulture);

    /// <summary>A part of a whole in percent, one decimal.</summary>
    public static string Percent(double part) => double.IsFinite(part) ? (100 * part).ToString("F1", CultureInfo.InvariantCulture) + " %" : "none";

    /// <summary>
    /// A name from a file: control characters shown, and a quote put before what a spreadsheet would run as a formula when the
    /// printed table is pasted into it.
    /// </summary>
    public static string Name(string name)
    {
        string shown = Printable.Text(name);
        return shown.Length > 0 && shown[0] is '=' or '+' or '-' or '@' ? "'" + shown : shown;
    }
}
