using MathNet.Numerics.Distributions;
using MathNet.Numerics.Integration;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Conformity;

/// <summary>How often an accept-or-reject rule goes wrong over all the items of a process (JCGM 106:2012, 9.5).</summary>
/// <param name="Nonconforming">Probability that an item is outside its tolerance, before anything is measured.</param>
/// <param name="ConsumerRisk">Probability that an item is outside its tolerance and accepted all the same.</param>
/// <param name="ProducerRisk">Probability that an item is within its tolerance and rejected all the same.</param>
public readonly record struct GlobalRisks(double Nonconforming, double ConsumerRisk, double ProducerRisk)
{
    private const int RuleOrder = 32;

    // Distances from an acceptance limit, in standard uncertainties, between which the chance of acceptance is smooth.
    private static readonly double[] MeasurementCuts = [-9, -6, -4, -2.5, -1.2, 0, 1.2, 2.5, 4, 6, 9];

    /// <summary>Integrates the joint distribution of true value and reading (formulas 17 to 20), the reading being normal about the true value.</summary>
    /// <param name="prior">What the process produces.</param>
    /// <param name="standardUncertainty">Of one measurement, above 0.</param>
    /// <param name="tolerance">Permitted true values.</param>
    /// <param name="acceptance">Readings that are accepted.</param>
    public static Answer<GlobalRisks> Of(PriorDistribution prior, double standardUncertainty, Limits tolerance, Limits acceptance)
    {
        ArgumentNullException.ThrowIfNull(prior);
        if ((tolerance.Check("A tolerance") ?? acceptance.Check("An acceptance interval")) is { } wrong)
        {
            return wrong;
        }

        if (!(standardUncertainty > 0 && double.IsFinite(standardUncertainty)))
        {
            return Reason.OutOfRange("Global risks need a standard uncertainty above 0.");
        }

        return Integrate(prior, standardUncertainty, tolerance, acceptance);
    }

    /// <summary>The integration alone, for inputs that have been checked.</summary>
    internal static GlobalRisks Integrate(PriorDistribution prior, double standardUncertainty, Limits tolerance, Limits acceptance)
    {
        double consumer = 0;
        double producer = 0;
        double[] cuts = Cuts(prior, standardUncertainty, tolerance, acceptance);
        for (int piece = 0; piece + 1 < cuts.Length; piece++)
        {
            (double from, double to) = (cuts[piece], cuts[piece + 1]);
            double middle = from + ((to - from) / 2);
            bool conforming = !(middle < tolerance.Lower || middle > tolerance.Upper);
            double mass = GaussLegendreRule.Integrate(
                value =>
                {
                    double accepted = acceptance.ProbabilityWithin(reading => Normal.CDF(value, standardUncertainty, reading));
                    return prior.Density(value) * (conforming ? 1 - accepted : accepted);
                },
                from,
                to,
                RuleOrder);
            consumer += conforming ? 0 : mass;
            producer += conforming ? mass : 0;
        }

        return new GlobalRisks(1 - tolerance.ProbabilityWithin(prior.Cumulative), consumer, producer);
    }

    private static double[] Cuts(PriorDistribution prior, double standardUncertainty, Limits tolerance, Limits acceptance)
    {
        IEnumerable<double> limits = new[] { tolerance.Lower, tolerance.Upper }.OfType<double>();
        IEnumerable<double> readings = new[] { acceptance.Lower, acceptance.Upper }.OfType<double>()
            .SelectMany(limit => MeasurementCuts.Select(cut => limit + (cut * standardUncertainty)));
        return [.. prior.Cuts.Concat(limits).Concat(readings).Where(cut => cut >= prior.Cuts[0] && cut <= prior.Cuts[^1]).Distinct().Order()];
    }
}
