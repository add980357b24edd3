using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Comparison;

/// <summary>Whether two means are the same for all purposes: two one-sided tests (Schuirmann 1987).</summary>
/// <param name="Margin">Largest difference that doesn't matter, in the unit of the readings.</param>
/// <param name="PValue">Of a difference that does matter: the larger of the two one-sided ones.</param>
/// <param name="IsEquivalent">The p-value is within the significance asked for.</param>
public sealed record Equivalence(double Margin, double PValue, bool IsEquivalent)
{
    /// <summary>Tests whether the means of two series differ by less than <paramref name="margin"/>.</summary>
    public static Answer<Equivalence> Of(IReadOnlyList<double> first, IReadOnlyList<double> second, double margin, double significance = 0.05)
    {
        if (!(margin > 0) || !double.IsFinite(margin) || significance is not (> 0 and < 1))
        {
            return Reason.OutOfRange("Equivalence needs a margin above 0 and a significance between 0 and 1.");
        }

        return Welch.Of(first, second).Then<Equivalence>(welch =>
        {
            double above = StudentT.Above((welch.Difference + margin) / welch.StandardError, welch.DegreesOfFreedom);
            double below = StudentT.Below((welch.Difference - margin) / welch.StandardError, welch.DegreesOfFreedom);
            double p = Math.Max(above, below);
            return new Equivalence(margin, p, p <= significance);
        });
    }
}
