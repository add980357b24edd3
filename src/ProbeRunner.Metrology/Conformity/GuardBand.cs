using MathNet.Numerics.Distributions;
using MathNet.Numerics.RootFinding;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Conformity;

/// <summary>How far the limits for readings are drawn in from the limits for true values (JCGM 106:2012, 8.3).</summary>
/// <param name="Width">From tolerance limit to acceptance limit, inwards; negative when readings beyond the tolerance may be accepted.</param>
/// <param name="Acceptance">Readings that are accepted.</param>
public readonly record struct GuardBand(double Width, Limits Acceptance)
{
    // In standard uncertainties: a reading is never this far from the true value.
    private const double FarOff = 9;

    /// <summary>
    /// The guard band at which an item read exactly at the acceptance limit is outside its tolerance with the given probability,
    /// when nothing is known beforehand (8.3.2): w = u times the normal quantile; w = 2 u gives 2.3 %. For two-sided tolerances
    /// the far limit is taken to be many u away.
    /// </summary>
    /// <param name="standardUncertainty">Of one measurement, above 0.</param>
    /// <param name="tolerance">Permitted true values.</param>
    /// <param name="worstRisk">Above 0, at most 0.5.</param>
    public static Answer<GuardBand> ForSpecificRisk(double standardUncertainty, Limits tolerance, double worstRisk)
    {
        if ((tolerance.Check("A tolerance") ?? CheckRisk(standardUncertainty, worstRisk)) is { } wrong)
        {
            return wrong;
        }

        return Drawn(tolerance, -standardUncertainty * Normal.InvCDF(0, 1, worstRisk));
    }

    /// <summary>The smallest guard band at which the consumer's global risk is no more than asked (9.5.4).</summary>
    /// <param name="prior">What the process produces.</param>
    /// <param name="standardUncertainty">Of one measurement, above 0.</param>
    /// <param name="tolerance">Permitted true values.</param>
    /// <param name="consumerRisk">Above 0, at most 0.5, and less than the probability of a nonconforming item.</param>
    public static Answer<GuardBand> ForConsumerRisk(PriorDistribution prior, double standardUncertainty, Limits tolerance, double consumerRisk)
    {
        ArgumentNullException.ThrowIfNull(prior);
        if ((tolerance.Check("A tolerance") ?? CheckRisk(standardUncertainty, consumerRisk)) is { } wrong)
        {
            return wrong;
        }

        // Widths are searched in standard uncertainties, so that the unit of length does not matter.
        double Excess(double widths) => GlobalRisks
            .Integrate(prior, standardUncertainty, tolerance, tolerance.Inwards(widths * standardUncertainty)).ConsumerRisk - consumerRisk;

        double widest = Widest(prior, tolerance) / standardUncertainty;
        if (Excess(-FarOff) <= 0)
        {
            return Reason.Undetermined(
                "No guard band is needed: even with readings accepted far beyond the tolerance the risk stays below the one asked for.");
        }

        if (Excess(widest) > 0)
        {
            return Reason.Undetermined("No guard band within this tolerance brings the risk down to the one asked for; a smaller uncertainty would.");
        }

        return Brent.TryFindRoot(Excess, -FarOff, widest, 1e-12, 200, out double found)
            ? Drawn(tolerance, found * standardUncertainty)
            : new Reason(RefusalKind.NotConverged, "The search for the guard band did not settle.");
    }

    // Two bands may almost meet; a single one may leave next to nothing of the prior's range.
    private static double Widest(PriorDistribution prior, Limits tolerance)
    {
        if (tolerance is { Lower: { } lower, Upper: { } upper })
        {
            return (upper - lower) / 2 * (1 - 1e-9);
        }

        double limit = (tolerance.Lower ?? tolerance.Upper)!.Value;
        return Math.Max(Math.Abs(limit - prior.Cuts[0]), Math.Abs(limit - prior.Cuts[^1]));
    }

    private static Answer<GuardBand> Drawn(Limits tolerance, double width)
    {
        Limits acceptance = tolerance.Inwards(width);
        return acceptance.Check("An acceptance interval") is null
            ? new GuardBand(width, acceptance)
            : Reason.Undetermined("The guard bands meet: no reading could be accepted at this uncertainty and risk.");
    }

    private static Reason? CheckRisk(double standardUncertainty, double risk) =>
        standardUncertainty > 0 && double.IsFinite(standardUncertainty) && risk is > 0 and <= 0.5
            ? null
            : Reason.OutOfRange("A guard band needs a standard uncertainty above 0 and a risk above 0 and at most 0.5.");
}
