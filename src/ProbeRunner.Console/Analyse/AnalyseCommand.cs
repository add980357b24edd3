using System.CommandLine;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Console.Analyse;

/// <summary>The maths of the runs, on anyone's files: <c>proberunner analyse KIND FILE</c>.</summary>
internal static class AnalyseCommand
{
    /// <summary>Done; where there is a verdict, it is fit.</summary>
    private const int Fit = 0;

    /// <summary>Done; the verdict is not fit, or undecided.</summary>
    private const int NotFit = 1;

    /// <summary>The file or the options can't be used; nothing was computed.</summary>
    private const int BadInput = 2;

    /// <summary>Makes the command with a subcommand for each kind of data.</summary>
    /// <param name="standardInput">Opens standard input, for the file called <c>-</c>; that of the process when null.</param>
    public static Command Create(Func<TextReader>? standardInput = null)
    {
        var source = new AnalyseSource(standardInput ?? (() => System.Console.In));
        return new Command("analyse", "Analyse readings or an uncertainty budget from a file; nothing is moved or stored.")
        {
            AnalyseSeries.Create(source),
            AnalyseNested.Create(source),
            AnalyseThreshold.Create(source),
            AnalyseSurface.Create(source),
            AnalyseBudget.Create(source),
        };
    }

    /// <summary>Gives a subcommand its action: a result, or what is wrong with the file on standard error.</summary>
    /// <param name="command">The subcommand.</param>
    /// <param name="analyse">Computes everything, then prints; tells whether what was judged is fit.</param>
    internal static void SetAnalysis(this Command command, Func<ParseResult, TextWriter, bool> analyse) => command.SetAction(parsed =>
    {
        try
        {
            return analyse(parsed, parsed.InvocationConfiguration.Output) ? Fit : NotFit;
        }
        catch (FileFaultException wrong)
        {
            WriteFaults(parsed.InvocationConfiguration.Error, wrong);
            return BadInput;
        }
    });

    private static void WriteFaults(TextWriter error, FileFaultException wrong)
    {
        const int Shown = 20;
        foreach (FileFault fault in wrong.Faults.Take(Shown))
        {
            error.WriteLine(fault.ToString());
        }

        if (wrong.Faults.Length > Shown)
        {
            error.WriteLine(FormattableString.Invariant($"and {wrong.Faults.Length - Shown} more like these"));
        }

        error.WriteLine("Nothing was computed. Mend the file and try again.");
    }
}
