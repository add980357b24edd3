using System.CommandLine;
using System.Text;
using ProbeRunner.Console.Analyse.Tables;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Console.Analyse;

/// <summary>Where the data to be analysed comes from: a file, or standard input when the file is called <c>-</c>.</summary>
/// <param name="StandardInput">Opens standard input.</param>
internal sealed record AnalyseSource(Func<TextReader> StandardInput)
{
    private const int LargestTable = 64 << 20;

    private const int LargestBudget = 1 << 20;

    private const string StandardInputName = "standard input";

    /// <summary>The positional argument that every kind of analysis takes.</summary>
    public static Argument<string> FileArgument(string what) => new("FILE") { Description = $"{what}; - reads standard input" };

    /// <summary>What to call a file in messages.</summary>
    public static string NameOf(string file) => file == "-" ? StandardInputName : Printable.Text(file);

    /// <summary>The table in a file.</summary>
    /// <exception cref="FileFaultException">It can't be read, or is no table.</exception>
    public Table Table(string file) => TableReader.Read(Text(file, LargestTable), NameOf(file));

    /// <summary>The budget in a file.</summary>
    /// <exception cref="FileFaultException">It can't be read, or is no budget.</exception>
    public BudgetFile Budget(string file) => BudgetFile.Parse(Text(file, LargestBudget), NameOf(file));

    private string Text(string file, int largest) => file == "-" ? TextOfStandardInput(largest) : TextFile.Read(file, largest);

    private string TextOfStandardInput(int largest)
    {
        var text = new StringBuilder();
        var piece = new char[1 << 16];
        TextReader input = StandardInput();
        while (input.Read(piece, 0, piece.Length) is > 0 and int count)
        {
            text.Append(piece, 0, count);
            if (text.Length > largest)
            {
                throw new FileFaultException(
                    [new FileFault(FilePosition.Whole(StandardInputName), "the input is too large", FormattableString.Invariant($"at most {largest >> 20} MiB is accepted"))]);
            }
        }

        return text.ToString();
    }
}
