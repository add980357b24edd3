using MathNet.Numerics.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Conformity;

/// <summary>How probable it is that a measured item is within its limits (JCGM 106:2012, 7).</summary>
/// <param name="Inside">Probability that the true value lies within the limits.</param>
/// <param name="BelowLower">Probability that it lies below the lower limit; 0 when there is none.</param>
/// <param name="AboveUpper">Probability that it lies above the upper limit; 0 when there is none.</param>
public readonly record struct ConformityProbability(double Inside, double BelowLower, double AboveUpper)
{
    /// <summary>
    /// From an estimate and its standard uncertainty: normal when the degrees of freedom are unlimited (7.2 to 7.4),
    /// otherwise the scaled and shifted t distribution (JCGM 101:2008, 6.4.9). With no uncertainty the answer is 0 or 1.
    /// </summary>
    /// <param name="estimate">Best estimate.</param>
    /// <param name="standardUncertainty">0 or more, same unit.</param>
    /// <param name="tolerance">Permitted values, same unit.</param>
    /// <param name="degreesOfFreedom">1 or more; null when unlimited.</param>
    public static Answer<ConformityProbability> Of(
        double estimate, double standardUncertainty, Limits tolerance, double? degreesOfFreedom = null)
    {
        if (tolerance.Check("A tolerance") is { } wrong)
        {
            return wrong;
        }

        if (!double.IsFinite(estimate) || !double.IsFinite(standardUncertainty) || standardUncertainty < 0 || degreesOfFreedom < 1)
        {
            return Reason.OutOfRange(
                "A conformity probability needs a finite estimate, a standard uncertainty of 0 or more and at least 1 degree of freedom.");
        }

        double below = tolerance.Lower is { } lower ? Beyond(lower - estimate, standardUncertainty, degreesOfFreedom) : 0;
        double above = tolerance.Upper is { } upper ? Beyond(estimate - upper, standardUncertainty, degreesOfFreedom) : 0;
        return new ConformityProbability(Math.Clamp(1 - below - above, 0, 1), below, above);
    }

    /// <summary>Measurement capability index T / (4 u) of a two-sided tolerance (JCGM 106:2012, 7.6.3): 4 or more is comfortable.</summary>
    public static Answer<double> CapabilityIndex(Limits tolerance, double standardUncertainty)
    {
        if (tolerance.Check("A tolerance") is { } wrong)
        {
            return wrong;
        }

        return tolerance.Upper - tolerance.Lower is { } width && standardUncertainty > 0 && double.IsFinite(standardUncertainty)
            ? width / (4 * standardUncertainty)
            : Reason.OutOfRange("A capability index needs a two-sided tolerance and a standard uncertainty above 0.");
    }

    // The tail is taken as a lower one, so that small probabilities keep their digits.
    private static double Beyond(double distance, double standardUncertainty, double? degreesOfFreedom)
    {
        if (standardUncertainty == 0)
        {
            return distance > 0 ? 1 : 0;
        }

        double scaled = distance / standardUncertainty;
        return degreesOfFreedom is { } freedom && double.IsFinite(freedom)
            ? StudentT.CDF(0, 1, freedom, scaled)
            : Normal.CDF(0, 1, scaled);
    }
}
