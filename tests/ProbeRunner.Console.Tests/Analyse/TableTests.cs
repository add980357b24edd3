using CsCheck;
using ProbeRunner.Console.Analyse.Tables;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Console.Tests.Analyse;

public class TableTests
{
    [Theory]
    [InlineData("0.1\n0.2\n")]
    [InlineData("0.1\r\n0.2\r\n")]
    [InlineData("0.1\r0.2")]
    [InlineData("\uFEFFz\n0.1\n0.2")]
    [InlineData("# taken on the bench\n z \n\n  0.1\t\n# pause\n 0.2 \n")]
    [InlineData("\"z\"\n\"0.1\"\n\" 0.2\"\n")]
    [InlineData("z_mm\n1e-1\n+0.2\n")]
    public void A_column_of_numbers_is_read_however_it_was_saved(string text) =>
        Assert.Equal([0.1, 0.2], TableReader.Read(text, "t.csv").Numbers(0));

    [Theory]
    [InlineData("x;y\n1;2\n")]
    [InlineData("x\ty\n1\t2\n")]
    [InlineData("# a, b\nx , y\n 1 , 2 \n")]
    public void Semicolons_and_tabs_separate_as_well(string text)
    {
        Table table = TableReader.Read(text, "t.csv");

        Assert.Equal([[1.0, 2.0]], table.Numbers(table.Columns("x", "y")));
        Assert.Equal([[2.0, 1.0]], table.Numbers(table.Columns("Y", "X")));
    }

    [Fact]
    public void A_quoted_field_may_hold_separators_quotes_and_line_ends()
    {
        Table table = TableReader.Read("name,z\n\"a, \"\"b\"\"\nc\",7\nd,8\n", "t.csv");

        Assert.Equal("a, \"b\"\nc", table.Rows[0][0].Text);
        Assert.Equal([7.0, 8.0], table.Numbers(1));
        Assert.Equal("t.csv:4:1", table.Rows[1][0].Where.ToString());
    }

    [Theory]
    [InlineData("1\n2\nx\n", "t.csv:3:1: \"x\" is not a number")]
    [InlineData("1.2x\n2\n", "t.csv:1:1: \"1.2x\" is not a number")]
    [InlineData("0.1\n nan\n", "t.csv:2:2: \"nan\" is not a number")]
    [InlineData("0.1\n-Infinity\n", "t.csv:2:1: \"-Infinity\" is not a number")]
    [InlineData("NaN\n0.1\n", "t.csv:1:1: \"NaN\" is not a number")]
    [InlineData("0.1\n1e999\n", "t.csv:2:1: \"1e999\" is not a number")]
    [InlineData("0.1\n-2e12\n", "t.csv:2:1: -2e12 is out of range")]
    [InlineData("0.1\n1.000,5\n", "t.csv:2:7: this row has 2 field(s); expected 1")]
    [InlineData("a,b\n1,2\n3\n", "t.csv:3:1: this row has 1 field(s); expected 2")]
    [InlineData("z\n\"1\n2\n", "t.csv:2:1: the quote that begins here does not end")]
    [InlineData("z\n\"1\" 2\n", "t.csv:2:5: something follows a closing quote")]
    [InlineData("z\n\u001b[2J\n", "t.csv:2:1: \"\\u{1B}[2J\" is not a number")]
    [InlineData("\n# nothing\n", "t.csv: the file holds no readings")]
    [InlineData("", "t.csv: the file holds no readings")]
    [InlineData("z\n", "t.csv: the file holds no readings")]
    public void A_bad_row_is_named_with_line_and_column(string text, string expected)
    {
        FileFaultException wrong = Assert.Throws<FileFaultException>(() => TableReader.Read(text, "t.csv").Numbers(0));

        Assert.StartsWith(expected, wrong.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_bad_field_is_named_at_once()
    {
        FileFaultException wrong = Assert.Throws<FileFaultException>(() => TableReader.Read("z\na\n1\nb\n", "t.csv").Numbers(0));

        Assert.Equal([2, 4], wrong.Faults.Select(fault => fault.Where.Line));
    }

    [Fact]
    public void A_missing_column_is_named_with_those_there_are()
    {
        FileFaultException wrong = Assert.Throws<FileFaultException>(() => TableReader.Read("x,y\n1,2\n", "t.csv").Columns("x", "y", "z"));

        Assert.Contains("\"z\"", wrong.Message, StringComparison.Ordinal);
        Assert.Contains("x, y", wrong.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Any_text_gives_a_table_or_a_fault_and_nothing_else() => Gen.String[Gen.Char["01.,;\t\"#\r\n -exN\u001b\uFEFF"], 0, 60].Sample(text =>
    {
        try
        {
            Table table = TableReader.Read(text, "t.csv");
            Assert.All(table.Rows, row => Assert.Equal(table.Width, row.Count));
            Assert.All(table.Numbers(0), number => Assert.True(double.IsFinite(number)));
        }
        catch (FileFaultException wrong)
        {
            Assert.NotEmpty(wrong.Faults);
        }
    });

    [Fact]
    public void Numbers_written_in_a_table_are_read_back_unchanged() => Gen.Double[-1e6, 1e6].Array[1, 30].Sample(numbers =>
        Assert.Equal(numbers, TableReader.Read(string.Join('\n', numbers.Select(number => FormattableString.Invariant($"{number:R}"))), "t.csv").Numbers(0)));
}
