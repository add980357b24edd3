using ProbeRunner.Metrology.Budgets;

namespace ProbeRunner.Metrology.Tests.Budgets;

/// <summary>The end-gauge calibration of JCGM 100:2008, example H.1: lengths in nm, temperatures in degC.</summary>
internal static class EndGauge
{
    internal const double Standard = 50_000_623;

    internal static readonly double DifferenceUncertainty = Math.Sqrt((5.8 * 5.8) + (3.9 * 3.9) + (6.7 * 6.7));

    internal static IReadOnlyList<Contribution> Inputs { get; } =
    [
        new("standard", Standard, 25) { DegreesOfFreedom = 18 },
        new("repeated observations", 215, 5.8) { DegreesOfFreedom = 24 },
        new("random effects of comparator", 0, 3.9) { DegreesOfFreedom = 5 },
        new("systematic effects of comparator", 0, 6.7) { DegreesOfFreedom = 8 },
        Of("expansion of standard", new RectangularDistribution(11.5e-6, 2e-6)),
        Of("difference of expansion", new RectangularDistribution(0, 1e-6)) with { DegreesOfFreedom = 50 },
        new("mean temperature of bed", -0.1, 0.2),
        Of("cyclic temperature of bed", new ArcsineDistribution(0, 0.5)),
        Of("difference of temperature", new RectangularDistribution(0, 0.05)) with { DegreesOfFreedom = 2 },
    ];

    internal static double Model(IReadOnlyList<double> x) =>
        x[0] + x[1] + x[2] + x[3] - (x[0] * ((x[5] * (x[6] + x[7])) + (x[4] * x[8])));

    private static Contribution Of(string name, InputDistribution distribution) => Contribution.FromDistribution(name, distribution).Value;
}
