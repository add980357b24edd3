using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.Budgets;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Console.Analyse;

/// <summary>An uncertainty budget as a person writes it in TOML.</summary>
/// <param name="Contributions">In the order of the file.</param>
/// <param name="Correlations">Of pairs of them; usually none.</param>
/// <param name="CoverageProbability">For the expanded uncertainty; 0.95 unless the file says otherwise.</param>
internal sealed record BudgetFile(
    IReadOnlyList<Contribution> Contributions, IReadOnlyList<Correlation> Correlations, double CoverageProbability)
{
    private const double Largest = 1e300;

    // Common practice for a certificate that states an expanded uncertainty without its factor.
    private const double UsualCoverageFactor = 2;

    private static readonly Dictionary<string, string> Shapes = new(StringComparer.Ordinal)
    {
        ["normal"] = "normal",
        ["rectangular"] = "rectangular",
        ["triangular"] = "triangular",
        ["arcsine"] = "arcsine",
        ["trapezoid"] = "trapezoid",
    };

    /// <summary>Reads and checks a budget.</summary>
    /// <param name="text">The TOML text.</param>
    /// <param name="name">What to call the file in messages.</param>
    /// <exception cref="FileFaultException">Something in it is wrong; all of it is named with its place.</exception>
    public static BudgetFile Parse(string text, string name)
    {
        TomlFile file = TomlFile.Parse(text, name);
        double coverage = file.Root.Number("coverageProbability", 0.01, 0.9999, UncertaintyBudget.UsualCoverage);
        Contribution[] contributions = [.. file.Root.Sections("contribution").Select(ContributionOf)];
        Correlation[] correlations = [.. file.Root.Sections("correlation").Select(CorrelationOf)];
        file.Finish();
        return new BudgetFile(contributions, correlations, coverage);
    }

    private static Contribution ContributionOf(TomlSection section)
    {
        string name = section.Text("name");
        double value = section.Number("value", -Largest, Largest, 0);
        double sensitivity = section.Number("sensitivity", -Largest, Largest, 1);
        double? freedom = section.Has("degreesOfFreedom") ? section.Number("degreesOfFreedom", 1, Largest) : null;
        if (section.Has("standardUncertainty") == section.Has("halfWidth"))
        {
            section.RefuseAt(section.Where, "a contribution states its uncertainty once", "expected standardUncertainty, or halfWidth with distribution");
            return new Contribution(name, value, 0);
        }

        double uncertainty = section.Has("halfWidth") ? FromHalfWidth(section, name) : section.Number("standardUncertainty", 0, Largest);
        return new Contribution(name, value, uncertainty) { Sensitivity = sensitivity, DegreesOfFreedom = freedom };
    }

    private static double FromHalfWidth(TomlSection section, string name)
    {
        double halfWidth = section.Number("halfWidth", 0, Largest);
        InputDistribution distribution = section.OneOf("distribution", Shapes) switch
        {
            "normal" => new NormalDistribution(0, halfWidth / section.Number("coverageFactor", 0.1, 100, UsualCoverageFactor)),
            "triangular" => new TriangularDistribution(0, halfWidth),
            "arcsine" => new ArcsineDistribution(0, halfWidth),
            "trapezoid" => new TrapezoidDistribution(0, halfWidth, section.Number("topRatio", 0, 1)),
            _ => new RectangularDistribution(0, halfWidth),
        };
        Answer<Contribution> contribution = Contribution.FromDistribution(name, distribution);
        return contribution.IsKnown ? contribution.Value.StandardUncertainty : 0;
    }

    private static Correlation CorrelationOf(TomlSection section)
    {
        IReadOnlyList<string> between = section.Texts("between", required: true);
        if (section.IsSound && between.Count != 2)
        {
            section.Refuse("between", FormattableString.Invariant($"between names {between.Count} contribution(s)"), "expected two names: between = [\"one\", \"other\"]");
        }

        double coefficient = section.Number("coefficient", -1, 1);
        return new Correlation(between.ElementAtOrDefault(0) ?? string.Empty, between.ElementAtOrDefault(1) ?? string.Empty, coefficient);
    }
}
