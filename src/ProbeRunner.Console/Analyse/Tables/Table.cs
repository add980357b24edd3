using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Console.Analyse.Tables;

/// <summary>A table of comma-separated values, every field knowing its place.</summary>
/// <param name="File">The file as the person named it.</param>
/// <param name="Header">The names of the columns; empty when the table has none.</param>
/// <param name="Rows">The rows below the header; all have the same number of fields, at least one.</param>
internal sealed record Table(string File, IReadOnlyList<Cell> Header, IReadOnlyList<IReadOnlyList<Cell>> Rows)
{
    // No length that is measured comes near, and sums of its powers stay finite.
    private const double Largest = 1e12;

    /// <summary>Number of columns.</summary>
    public int Width => Header.Count > 0 ? Header.Count : Rows[0].Count;

    /// <summary>The index of a named column, whatever its case.</summary>
    /// <exception cref="FileFaultException">There is no such column.</exception>
    public int Column(string name)
    {
        for (int i = 0; i < Header.Count; i++)
        {
            if (Header[i].Text.Equals(name, StringComparison.OrdinalIgnoreCase))
            {
                return i;
            }
        }

        throw Fault(
            Header.Count > 0 ? Header[0].Where : FilePosition.Whole(File),
            $"there is no column \"{Printable.Text(name)}\"",
            Header.Count > 0 ? "the columns are " + string.Join(", ", Header.Select(cell => Printable.Text(cell.Text))) : "the file has no header row");
    }

    /// <summary>The indices of columns that a kind of analysis needs: by their names, or in this order when there is no header.</summary>
    /// <exception cref="FileFaultException">A column is missing or, without a header, one too many.</exception>
    public IReadOnlyList<int> Columns(params IReadOnlyList<string> names)
    {
        if (Header.Count > 0)
        {
            return [.. names.Select(Column)];
        }

        return Width == names.Count
            ? [.. Enumerable.Range(0, names.Count)]
            : throw Fault(
                Rows[0][0].Where,
                FormattableString.Invariant($"the first row has {Width} field(s) and names no columns"),
                FormattableString.Invariant($"expected {names.Count} fields, {string.Join(",", names)}, or a header row with these names"));
    }

    /// <summary>All numbers of a column.</summary>
    /// <exception cref="FileFaultException">Fields that hold no number; all of them are named.</exception>
    public double[] Numbers(int column)
    {
        var faults = new FaultList();
        double[] numbers = [.. Rows.Select(row => NumberOf(row[column], faults))];
        faults.ThrowIfAny();
        return numbers;
    }

    /// <summary>Several columns of numbers, row by row.</summary>
    /// <exception cref="FileFaultException">Fields that hold no number; all of them are named.</exception>
    public double[][] Numbers(IReadOnlyList<int> columns)
    {
        var faults = new FaultList();
        double[][] numbers = [.. Rows.Select(row => columns.Select(column => NumberOf(row[column], faults)).ToArray())];
        faults.ThrowIfAny();
        return numbers;
    }

    private static double NumberOf(Cell cell, FaultList faults)
    {
        if (cell.Number is { } number)
        {
            if (Math.Abs(number) > Largest)
            {
                faults.Add(cell.Where, $"{Printable.Text(cell.Text)} is out of range", FormattableString.Invariant($"expected a number from {-Largest} to {Largest}"));
            }

            return number;
        }

        faults.Add(
            cell.Where,
            cell.Text.Length == 0 ? "the field is empty" : $"\"{Printable.Text(cell.Text)}\" is not a number",
            "expected a number with a decimal point, such as -0.012");
        return 0;
    }

    private static FileFaultException Fault(FilePosition where, string wrong, string accepted) => new([new FileFault(where, wrong, accepted)]);
}
