using System.Globalization;
using System.Text;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Exports;

/// <summary>
/// Writes comma-separated values by RFC 4180. Text that a spreadsheet would take for a formula gets an apostrophe in front; what is
/// unprintable is shown by its number; numbers are in the invariant culture and stay numbers, a minus sign in front included.
/// </summary>
internal sealed class CsvText
{
    private const string FormulaStarts = "=+-@\t\r";
    private readonly StringBuilder _lines = new();
    private bool _startsLine = true;

    /// <summary>A table with its header line.</summary>
    public CsvText(params ReadOnlySpan<string> columns)
    {
        foreach (string column in columns)
        {
            Field(column);
        }

        EndLine();
    }

    /// <summary>Adds text.</summary>
    public CsvText Add(string text)
    {
        // Judged before anything is escaped: a tab in front is gone from sight afterwards.
        bool couldBeFormula = text.Length > 0 && FormulaStarts.Contains(text[0], StringComparison.Ordinal);
        return Field((couldBeFormula ? "'" : string.Empty) + VisibleText.Of(text));
    }

    /// <summary>Adds a number that reads back to the last bit; one that is none leaves the field empty.</summary>
    public CsvText Add(double number) => Field(double.IsFinite(number) ? number.ToString("R", CultureInfo.InvariantCulture) : string.Empty);

    /// <summary>Adds a number, or an empty field.</summary>
    public CsvText Add(double? number) => number is { } value ? Add(value) : Field(string.Empty);

    /// <summary>Adds a whole number.</summary>
    public CsvText Add(long number) => Field(number.ToString(CultureInfo.InvariantCulture));

    /// <summary>Adds yes or no as 1 or 0.</summary>
    public CsvText Add(bool yes) => Field(yes ? "1" : "0");

    /// <summary>Adds a moment, ISO 8601.</summary>
    public CsvText Add(DateTimeOffset moment) => Field(moment.ToString("O", CultureInfo.InvariantCulture));

    /// <summary>Ends the line, with CR LF as the RFC asks.</summary>
    public void EndLine()
    {
        _lines.Append("\r\n");
        _startsLine = true;
    }

    /// <inheritdoc/>
    public override string ToString() => _lines.ToString();

    private CsvText Field(string content)
    {
        if (!_startsLine)
        {
            _lines.Append(',');
        }

        _startsLine = false;
        if (content.AsSpan().ContainsAny(",\"\r\n"))
        {
            _lines.Append('"').Append(content.Replace("\"", "\"\"", StringComparison.Ordinal)).Append('"');
        }
        else
        {
            _lines.Append(content);
        }

        return this;
    }
}
