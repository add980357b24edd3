using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Console.Analyse.Tables;

/// <summary>Reads a table of comma-separated values: a header row of names or none, then rows of equal length.</summary>
internal static class TableReader
{
    /// <summary>The table in a text.</summary>
    /// <param name="text">The whole file.</param>
    /// <param name="file">What to call it in messages.</param>
    /// <exception cref="FileFaultException">There are no rows, or rows of unequal length.</exception>
    public static Table Read(string text, string file)
    {
        IReadOnlyList<IReadOnlyList<Cell>> rows = TableScanner.Scan(text, file);
        IReadOnlyList<Cell> header = rows.Count > 0 && IsHeader(rows[0]) ? rows[0] : [];
        IReadOnlyList<IReadOnlyList<Cell>> body = header.Count > 0 ? [.. rows.Skip(1)] : rows;
        var faults = new FaultList();
        if (body.Count == 0)
        {
            faults.Add(FilePosition.Whole(file), "the file holds no readings", "expected at least one row of numbers");
            faults.ThrowIfAny();
        }

        foreach (IReadOnlyList<Cell> row in body.Where(row => row.Count != rows[0].Count))
        {
            faults.Add(
                row.Count > rows[0].Count ? row[rows[0].Count].Where : row[^1].Where,
                FormattableString.Invariant($"this row has {row.Count} field(s)"),
                FormattableString.Invariant($"expected {rows[0].Count}, as in the first row"));
        }

        faults.ThrowIfAny();
        return new Table(file, header, body);
    }

    // The first column of a numbered table is often left without a name.
    private static bool IsHeader(IReadOnlyList<Cell> row) =>
        row.Any(cell => cell.IsName) && row.All(cell => cell.IsName || cell.Text.Length == 0);
}
