using System.Globalization;
using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Verdicts;

/// <summary>Type-1 gauge study: is the probe good enough for a tolerance, on one place of known height.</summary>
/// <param name="Cg">Share of tolerance over spread of the readings.</param>
/// <param name="Cgk">The same less the bias; may be negative.</param>
/// <param name="Bias">Mean less reference, in the unit of the readings.</param>
/// <param name="BiasT">Bias over its standard error.</param>
/// <param name="BiasPValue">Two-sided, of no bias.</param>
/// <param name="SmallestTolerance">Smallest tolerance for which Cg still passes, in the unit of the readings.</param>
/// <param name="Constants">The constants used.</param>
public sealed record Capability(
    double Cg,
    double Cgk,
    double Bias,
    double BiasT,
    double BiasPValue,
    double SmallestTolerance,
    CapabilityConstants Constants)
{
    /// <summary>Both indices reach the limit.</summary>
    public bool Passes => Cg >= Constants.Limit && Cgk >= Constants.Limit;

    /// <summary>
    /// Cg = share T / (span s), Cgk = (share/2 T - |bias|) / (span/2 s). Refused for too few readings, and when the series drifts or
    /// its readings resemble their predecessors: sigma then says nothing about the next reading.
    /// </summary>
    /// <param name="readings">In the order taken.</param>
    /// <param name="reference">True height of the place, in the unit of the readings.</param>
    /// <param name="tolerance">Full width of the tolerance, above 0.</param>
    /// <param name="constants">The usual when null.</param>
    public static Answer<Capability> Of(IReadOnlyList<double> readings, double reference, double tolerance, CapabilityConstants? constants = null)
    {
        CapabilityConstants used = constants ?? new CapabilityConstants();
        if (Finite.Check(readings, Math.Max(4, used.FewestReadings), "A capability study") is { } why)
        {
            return why;
        }

        double drift = MannKendall.Of(readings).OrElse(null)?.PValue ?? 1;
        if (drift < used.Significance)
        {
            return Reason.Assumption(Text($"The series drifts (Mann-Kendall p = {drift:0.0000}): its scatter says nothing about the next reading. Remove the drift and repeat."));
        }

        if (Autocorrelation.Of(readings).OrElse(null) is { } neighbours && neighbours.LjungBoxPValue < used.Significance)
        {
            return Reason.Assumption(Text(
                $"Readings resemble their predecessors (autocorrelation {neighbours.Autocorrelations[0]:0.00}, p = {neighbours.LjungBoxPValue:0.0000}): capability assumes independent ones."));
        }

        return Figures(readings, reference, tolerance, used);
    }

    /// <summary>The indices alone, with no look at drift or autocorrelation.</summary>
    internal static Answer<Capability> Figures(IReadOnlyList<double> readings, double reference, double tolerance, CapabilityConstants used)
    {
        if (Finite.Check(readings, 2, "A capability study") is { } why)
        {
            return why;
        }

        if (!double.IsFinite(reference) || !(tolerance > 0) || !double.IsFinite(tolerance))
        {
            return Reason.OutOfRange("A capability study needs a finite reference and a tolerance above 0.");
        }

        double s = Moments.StandardDeviation(readings);
        if (!(s > 0) || !double.IsFinite(s))
        {
            return Reason.Constant("A capability study");
        }

        double bias = Moments.Mean(readings) - reference;
        double t = bias * Math.Sqrt(readings.Count) / s;
        return new Capability(
            used.ToleranceShare * tolerance / (used.SigmaSpan * s),
            ((used.ToleranceShare / 2 * tolerance) - Math.Abs(bias)) / (used.SigmaSpan / 2 * s),
            bias,
            t,
            StudentT.TwoSided(t, readings.Count - 1),
            used.Limit * used.SigmaSpan * s / used.ToleranceShare,
            used);
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
