using System.Globalization;
using System.Net;
using System.Runtime.CompilerServices;
using System.Text;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Markup;

/// <summary>
/// A piece of HTML or SVG. It is made from an interpolated string whose literal parts are markup and whose holes are content: text is made
/// visible and encoded, numbers are written in the invariant culture, and only another piece goes in as it is. So nothing from the wire,
/// a file or a person can become markup.
/// </summary>
internal readonly record struct Html(string Code)
{
    /// <summary>Nothing.</summary>
    public static Html Nothing { get; } = new(string.Empty);

    /// <summary>A piece from an interpolated string.</summary>
    public static Html Of(HtmlBuilder builder) => builder.Done();

    /// <summary>Pieces one after another.</summary>
    public static Html Join(IEnumerable<Html> pieces) => new(string.Concat(pieces.Select(piece => piece.Code)));

    /// <summary>A piece for each item, one after another.</summary>
    public static Html Each<T>(IEnumerable<T> items, Func<T, Html> piece) => Join(items.Select(piece));

    /// <inheritdoc/>
    public override string ToString() => Code;
}

/// <summary>Builds a piece of markup out of an interpolated string.</summary>
[InterpolatedStringHandler]
internal readonly ref struct HtmlBuilder
{
    private readonly StringBuilder _code;

    /// <summary>Called by the compiler.</summary>
    public HtmlBuilder(int literalLength, int formattedCount) => _code = new StringBuilder(literalLength + (formattedCount * 16));

    /// <summary>Markup.</summary>
    public void AppendLiteral(string markup) => _code.Append(markup);

    /// <summary>A piece, as it is.</summary>
    public void AppendFormatted(Html piece) => _code.Append(piece.Code);

    /// <summary>Text, encoded; null is nothing.</summary>
    public void AppendFormatted(string? text) => _code.Append(WebUtility.HtmlEncode(VisibleText.Of(text ?? string.Empty)));

    /// <summary>A number for an attribute: at most two decimals.</summary>
    public void AppendFormatted(double number) => AppendFormatted(number, "0.##");

    /// <summary>A number in a format of its own.</summary>
    public void AppendFormatted(double number, string format) => _code.Append(number.ToString(format, CultureInfo.InvariantCulture));

    /// <summary>A whole number.</summary>
    public void AppendFormatted(int number) => _code.Append(CultureInfo.InvariantCulture, $"{number}");

    /// <summary>A whole number.</summary>
    public void AppendFormatted(long number) => _code.Append(CultureInfo.InvariantCulture, $"{number}");

    /// <summary>The piece.</summary>
    public Html Done() => new(_code.ToString());
}
