using System.CommandLine;
using ProbeRunner.Console.Analyse.Results;
using ProbeRunner.Metrology.Budgets;

namespace ProbeRunner.Console.Analyse;

/// <summary><c>analyse budget</c>: what a list of contributions comes to, after JCGM 100.</summary>
internal static class AnalyseBudget
{
    /// <summary>Makes the subcommand.</summary>
    public static Command Create(AnalyseSource source)
    {
        Argument<string> file = AnalyseSource.FileArgument("Budget in TOML");
        Option<bool> json = AnalyseOptions.Json();
        var command = new Command(
            "budget",
            """
            Combine the contributions of an uncertainty budget: value, combined and expanded uncertainty, shares.

            Each [[contribution]] takes name, value, sensitivity (1), degreesOfFreedom (unlimited), and either
            standardUncertainty, or halfWidth with distribution = "normal", "rectangular", "triangular", "arcsine" or
            "trapezoid" (normal: halfWidth is coverageFactor = 2 standard deviations; trapezoid: topRatio 0 to 1).
            Each [[correlation]] takes between = ["one", "other"] and coefficient. At the top: coverageProbability (0.95).
            The value is the sum of sensitivity times value.
            """)
        {
            file, json,
        };
        command.SetAnalysis((parsed, output) =>
        {
            string path = parsed.GetRequiredValue(file);
            string name = AnalyseSource.NameOf(path);
            BudgetFile budget = source.Budget(path);
            BudgetResult result = AnswerFromFile.Of(
                UncertaintyBudget.Evaluate(budget.Contributions, budget.Correlations, budget.CoverageProbability), name);
            if (parsed.GetValue(json))
            {
                WriteJson(output, result);
            }
            else
            {
                WriteText(output, name, result);
            }

            return true;
        });
        return command;
    }

    private static void WriteJson(TextWriter output, BudgetResult result) => JsonOutput.Write(output, new
    {
        result.Value,
        result.Combined,
        result.EffectiveDegreesOfFreedom,
        result.CoverageFactor,
        result.Expanded,
        Shares = result.Shares.Select(share => new { share.Name, share.Share }),
    });

    private static void WriteText(TextWriter output, string name, BudgetResult result)
    {
        output.WriteLine(FormattableString.Invariant($"{name}: {result.Shares.Count} contribution(s)"));
        var table = new TextTable();
        table.Add("value", result.Value);
        table.Add("combined standard uncertainty", result.Combined);
        table.Add("effective degrees of freedom", result.EffectiveDegreesOfFreedom is { } freedom ? Figure.Of(freedom) : "unlimited");
        table.Add("coverage factor", $"{Figure.Of(result.CoverageFactor)} for {Figure.Percent(result.CoverageProbability)}");
        table.Add("expanded uncertainty", result.Expanded);
        table.Write(output);
        output.WriteLine("Shares of the variance, largest first:");
        var shares = new TextTable();
        foreach (ContributionShare share in result.Shares.OrderByDescending(share => share.Share))
        {
            shares.Add(Figure.Name(share.Name), $"{Figure.Percent(share.Share),8}  uncertainty {Figure.Of(share.Uncertainty)}");
        }

        shares.Write(output);
    }
}
