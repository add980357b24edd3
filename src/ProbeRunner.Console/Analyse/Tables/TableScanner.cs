using System.Text;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Console.Analyse.Tables;

/// <summary>
/// Splits a text into rows of fields that know their line and column, which no general reader of comma-separated values tells.
/// Quoting after RFC 4180; spaces around fields, empty lines and lines that begin with # are left out; any line ending is taken.
/// </summary>
internal sealed class TableScanner
{
    private readonly string text;
    private readonly string file;
    private readonly char separator;
    private int at;
    private int line = 1;
    private int lineStart;

    private TableScanner(string text, string file)
    {
        this.text = text;
        this.file = file;
        separator = SeparatorOf(text);
    }

    /// <summary>All rows of a text.</summary>
    /// <exception cref="FileFaultException">A quote does not end, or something follows it.</exception>
    public static IReadOnlyList<IReadOnlyList<Cell>> Scan(string text, string file)
    {
        var scanner = new TableScanner(text, file);
        var rows = new List<IReadOnlyList<Cell>>();
        while (scanner.at < text.Length)
        {
            if (scanner.NextRow() is { } row)
            {
                rows.Add(row);
            }
        }

        return rows;
    }

    private FilePosition Here => new(file, line, at - lineStart + 1);

    private bool AtEndOfLine => at >= text.Length || text[at] is '\r' or '\n';

    // Comma, unless the first line with content is split by tabs or semicolons, as spreadsheets with a decimal comma write it.
    private static char SeparatorOf(string text)
    {
        foreach (ReadOnlySpan<char> raw in text.AsSpan().EnumerateLines())
        {
            ReadOnlySpan<char> content = raw.Trim();
            if (content.Length > 0 && content[0] != '#')
            {
                return raw.Contains('\t') ? '\t' : raw.Contains(';') ? ';' : ',';
            }
        }

        return ',';
    }

    private List<Cell>? NextRow()
    {
        SkipSpaces();
        if (AtEndOfLine || text[at] == '#')
        {
            SkipLine();
            return null;
        }

        var row = new List<Cell>();
        while (true)
        {
            row.Add(NextCell());
            if (at < text.Length && text[at] == separator)
            {
                at++;
                continue;
            }

            SkipLine();
            return row;
        }
    }

    private Cell NextCell()
    {
        SkipSpaces();
        FilePosition where = Here;
        if (at < text.Length && text[at] == '"')
        {
            return new Cell(Quoted(where), where);
        }

        int start = at;
        while (!AtEndOfLine && text[at] != separator)
        {
            at++;
        }

        return new Cell(text[start..at].Trim(), where);
    }

    private string Quoted(FilePosition where)
    {
        var content = new StringBuilder();
        for (at++; at < text.Length; at++)
        {
            if (text[at] == '"')
            {
                if (at + 1 < text.Length && text[at + 1] == '"')
                {
                    at++;
                }
                else
                {
                    at++;
                    ExpectEndOfField();
                    return content.ToString().Trim();
                }
            }

            content.Append(text[at]);
            if (text[at] == '\n')
            {
                line++;
                lineStart = at + 1;
            }
        }

        throw new FileFaultException([new FileFault(where, "the quote that begins here does not end", "expected a closing \"")]);
    }

    private void ExpectEndOfField()
    {
        SkipSpaces();
        if (!AtEndOfLine && text[at] != separator)
        {
            throw new FileFaultException([new FileFault(Here, "something follows a closing quote", "expected the next field or the end of the line")]);
        }
    }

    private void SkipSpaces()
    {
        while (!AtEndOfLine && text[at] != separator && (char.IsWhiteSpace(text[at]) || text[at] == '\uFEFF'))
        {
            at++;
        }
    }

    private void SkipLine()
    {
        while (!AtEndOfLine)
        {
            at++;
        }

        if (at < text.Length)
        {
            at += text[at] == '\r' && at + 1 < text.Length && text[at + 1] == '\n' ? 2 : 1;
            line++;
            lineStart = at;
        }
    }
}
