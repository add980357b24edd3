using System.CommandLine;
using System.CommandLine.Parsing;
using ProbeRunner.Metrology.Series;
using ProbeRunner.Metrology.Verdicts;

namespace ProbeRunner.Console.Analyse;

/// <summary>What a person may ask of a series besides its figures.</summary>
internal sealed class SeriesOptions
{
    private readonly Option<double?> tolerance = AnalyseOptions.Number(
        "--tolerance", "MM", "Full width of the tolerance: adds the capability indices Cg and Cgk.", above: 0);

    private readonly Option<double?> reference = AnalyseOptions.Number(
        "--reference", "MM", "True height of the place, for the capability; the mean unless given.");

    private readonly Option<double?> goodSigma = AnalyseOptions.Number(
        "--good-sigma", "MM", "Standard deviation that must be called fit; 0.005 unless given.", above: 0);

    private readonly Option<double?> badSigma = AnalyseOptions.Number(
        "--bad-sigma", "MM", "Standard deviation that must be called not fit; 0.010 unless given.", above: 0);

    /// <summary>Adds the options to the subcommand.</summary>
    public void AddTo(Command command)
    {
        command.Add(tolerance);
        command.Add(reference);
        command.Add(goodSigma);
        command.Add(badSigma);
        command.Validators.Add(Check);
    }

    /// <summary>The question that was asked.</summary>
    public SeriesQuestion Question(ParseResult parsed) => new(
        Limits(parsed.GetValue(goodSigma), parsed.GetValue(badSigma)), parsed.GetValue(tolerance), parsed.GetValue(reference));

    private static SigmaLimits Limits(double? good, double? bad)
    {
        var usual = new SigmaLimits();
        return new SigmaLimits(good ?? usual.GoodSigma, bad ?? usual.BadSigma);
    }

    private void Check(CommandResult result)
    {
        SigmaLimits limits = Limits(AnalyseOptions.Given(result, goodSigma), AnalyseOptions.Given(result, badSigma));
        if (limits.GoodSigma >= limits.BadSigma)
        {
            result.AddError(FormattableString.Invariant(
                $"--good-sigma must be below --bad-sigma; they are {limits.GoodSigma} and {limits.BadSigma}."));
        }

        if (result.GetResult(reference) is not null && result.GetResult(tolerance) is null)
        {
            result.AddError("--reference is used for the capability only; give --tolerance as well.");
        }
    }
}
