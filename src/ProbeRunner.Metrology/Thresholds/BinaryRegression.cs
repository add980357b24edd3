using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Thresholds;

/// <summary>The curve of the share of yes over height.</summary>
public enum ResponseCurve
{
    /// <summary>Normal distribution function.</summary>
    Probit,

    /// <summary>Logistic function.</summary>
    Logit,
}

/// <summary>Yes-or-no answers over height by maximum likelihood: share of yes = curve(intercept + slope x height).</summary>
/// <param name="Intercept">Of the linear predictor.</param>
/// <param name="Slope">Of the linear predictor per unit of height; negative when yes becomes rarer upwards.</param>
/// <param name="Threshold">Height at which half of the answers are yes: -intercept / slope.</param>
/// <param name="ThresholdStandardError">By the delta method from the information matrix.</param>
/// <param name="Scale">1 / |slope|: the person's sigma for a probit.</param>
/// <param name="Deviance">-2 x log-likelihood of the single answers.</param>
/// <param name="Curve">The curve fitted.</param>
public sealed record BinaryRegression(
    double Intercept,
    double Slope,
    double Threshold,
    double ThresholdStandardError,
    double Scale,
    double Deviance,
    ResponseCurve Curve)
{
    private const int Passes = 200;

    /// <summary>A deviance that rises by less than this part of it only rounds differently: of thousands of answers it never stands still.</summary>
    private const double Rounding = 1e-12;

    /// <summary>
    /// Fits by Fisher scoring, heights centred and scaled first. Refused when the answers are all alike, all at one height, or
    /// separated: then the likelihood has no maximum.
    /// </summary>
    public static Answer<BinaryRegression> Of(IReadOnlyList<Trial> trials, ResponseCurve curve = ResponseCurve.Probit)
    {
        ArgumentNullException.ThrowIfNull(trials);
        if (Finite.Check([.. trials.Select(t => t.Height)], 3, "A threshold fit") is { } why)
        {
            return why;
        }

        if (Overlap(trials) is { } noMaximum)
        {
            return noMaximum;
        }

        double centre = trials.Average(t => t.Height);
        double unit = Math.Sqrt(trials.Average(t => (t.Height - centre) * (t.Height - centre)));
        (double Height, double Asked, double Yes)[] heights = [.. trials
            .GroupBy(t => t.Height)
            .Select(g => ((g.Key - centre) / unit, (double)g.Count(), (double)g.Count(t => t.Felt)))];
        double a = 0;
        double b = 0;
        double deviance = Deviances(heights, a, b, curve);
        for (int pass = 0; pass < Passes; pass++)
        {
            (double stepA, double stepB, double[] covariance) = Step(heights, a, b, curve);
            double share = 1;
            double next = Deviances(heights, a + stepA, b + stepB, curve);
            while (!(next <= deviance + (Rounding * (1 + deviance))) && share > 1e-6)
            {
                share /= 2;
                next = Deviances(heights, a + (share * stepA), b + (share * stepB), curve);
            }

            a += share * stepA;
            b += share * stepB;
            deviance = next;
            if (Math.Abs(stepA) + Math.Abs(stepB) < 1e-12 * (1 + Math.Abs(a) + Math.Abs(b)))
            {
                return Describe(a, b, covariance, centre, unit, deviance, curve);
            }
        }

        return new Reason(RefusalKind.NotConverged, "The threshold fit did not settle: the answers hardly depend on the height.");
    }

    private static Answer<BinaryRegression> Describe(
        double a, double b, double[] covariance, double centre, double unit, double deviance, ResponseCurve curve)
    {
        double ratio = -a / b;
        double error = Math.Sqrt(Math.Max(0, covariance[0] + (2 * ratio * covariance[1]) + (ratio * ratio * covariance[2]))) / Math.Abs(b);
        double threshold = centre + (unit * ratio);
        return double.IsFinite(threshold) && double.IsFinite(error)
            ? new BinaryRegression(a - (b * centre / unit), b / unit, threshold, unit * error, unit / Math.Abs(b), deviance, curve)
            : Reason.Undetermined("The answers do not depend on the height.");
    }

    /// <summary>The reason why the likelihood has no maximum, or null (Albert and Anderson 1984).</summary>
    private static Reason? Overlap(IReadOnlyList<Trial> trials)
    {
        double[] yes = [.. trials.Where(t => t.Felt).Select(t => t.Height)];
        double[] no = [.. trials.Where(t => !t.Felt).Select(t => t.Height)];
        if (yes.Length == 0 || no.Length == 0)
        {
            return Reason.Undetermined("Every answer was the same: the threshold lies beyond the heights asked about.");
        }

        return yes.Min() >= no.Max() || yes.Max() <= no.Min()
            ? Reason.Undetermined("The answers change over cleanly between two heights: the threshold lies there, and how sharp it is can't be told.")
            : null;
    }

    private static (double A, double B, double[] Covariance) Step((double Height, double Asked, double Yes)[] heights, double a, double b, ResponseCurve curve)
    {
        double gradientA = 0, gradientB = 0, aa = 0, ab = 0, bb = 0;
        foreach ((double x, double asked, double yes) in heights)
        {
            (double p, double q, double density) = Curves(a + (b * x), curve);
            double weight = density / (p * q);
            double score = weight * ((yes * q) - ((asked - yes) * p));
            double information = asked * density * weight;
            gradientA += score;
            gradientB += score * x;
            aa += information;
            ab += information * x;
            bb += information * x * x;
        }

        double determinant = (aa * bb) - (ab * ab);
        return (
            ((bb * gradientA) - (ab * gradientB)) / determinant,
            ((aa * gradientB) - (ab * gradientA)) / determinant,
            [bb / determinant, -ab / determinant, aa / determinant]);
    }

    private static double Deviances((double Height, double Asked, double Yes)[] heights, double a, double b, ResponseCurve curve) =>
        -2 * heights.Sum(h =>
        {
            (double p, double q, _) = Curves(a + (b * h.Height), curve);
            return (h.Yes * Math.Log(p)) + ((h.Asked - h.Yes) * Math.Log(q));
        });

    /// <summary>Share of yes, share of no and density at a predictor, kept off 0.</summary>
    private static (double Yes, double No, double Density) Curves(double predictor, ResponseCurve curve)
    {
        double z = Math.Clamp(predictor, -30, 30);
        if (curve == ResponseCurve.Probit)
        {
            return (StandardNormal.Below(z), StandardNormal.Above(z), StandardNormal.Density(z));
        }

        double p = 1 / (1 + Math.Exp(-z));
        double q = 1 / (1 + Math.Exp(z));
        return (p, q, p * q);
    }
}
