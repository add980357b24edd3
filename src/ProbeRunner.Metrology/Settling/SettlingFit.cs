using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.LinearAlgebra;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Settling;

/// <summary>A parameter with its standard error and its 95 % limits by Student's t.</summary>
public readonly record struct SettlingParameter(double Value, double StandardError, double Lower, double Upper);

/// <summary>
/// Least squares of z(t) = end + amplitude exp(-(t - t0) / tau), t0 the first time: for each tau the rest is linear (variable projection, Golub and
/// Pereyra 1973), so tau alone is searched. Standard errors from the linearised model.
/// </summary>
/// <param name="End">Height that is approached, in the unit of the heights.</param>
/// <param name="Amplitude">Height at the first time less the end.</param>
/// <param name="TimeConstant">tau, in the unit of the times.</param>
/// <param name="ResidualStandardDeviation">Scatter about the curve, n - 3.</param>
/// <param name="FirstTime">t0.</param>
public sealed record SettlingFit(SettlingParameter End, SettlingParameter Amplitude, SettlingParameter TimeConstant, double ResidualStandardDeviation, double FirstTime)
{
    private const int Fewest = 5;
    private const int GridSteps = 120;

    /// <summary>tau is searched from this share of the time spanned up to <see cref="LongestSpans"/> of it.</summary>
    private const double ShortestSpans = 0.01;

    private const double LongestSpans = 20;

    /// <summary>Height at a time.</summary>
    public double HeightAt(double time) => End.Value + (Amplitude.Value * Math.Exp(-(time - FirstTime) / TimeConstant.Value));

    /// <summary>Fits five points or more; refused where the points bend towards no end (a straight line, no movement).</summary>
    /// <param name="times">In order or not; not all the same.</param>
    /// <param name="heights">One a time.</param>
    public static Answer<SettlingFit> Of(IReadOnlyList<double> times, IReadOnlyList<double> heights)
    {
        if ((Finite.Check(times, Fewest, "A settling curve") ?? Finite.Check(heights, Fewest, "A settling curve")) is { } why)
        {
            return why;
        }

        double first = times.Min(), span = times.Max() - first;
        if (times.Count != heights.Count || !(span > 0))
        {
            return Reason.OutOfRange("A settling curve needs one time a height, and times that differ.");
        }

        double[] since = [.. times.Select(time => time - first)], observed = [.. heights];
        double low = Math.Log(ShortestSpans * span), high = Math.Log(LongestSpans * span), step = (high - low) / GridSteps;
        int best = Enumerable.Range(0, GridSteps + 1).MinBy(at => Squares(since, observed, low + (at * step)));
        if (best is 0 or GridSteps)
        {
            return Reason.Undetermined("The heights don't bend towards an end: more time is needed, or nothing moves.");
        }

        double logTau = Minimum(value => Squares(since, observed, value), low + ((best - 1) * step), low + ((best + 1) * step));
        return Around(since, observed, Math.Exp(logTau), first);
    }

    private static Answer<SettlingFit> Around(double[] since, double[] observed, double tau, double first)
    {
        double[] ones = [.. since.Select(_ => 1.0)], decay = [.. since.Select(t => Math.Exp(-t / tau))];
        if (LeastSquares.Solve([ones, decay], observed) is not { } linear)
        {
            return Reason.Undetermined("The heights don't bend towards an end: more time is needed, or nothing moves.");
        }

        double amplitude = linear.Coefficients[1];
        double[] slope = [.. since.Zip(decay, (t, e) => amplitude * e * t / (tau * tau))];
        int freedom = observed.Length - 3;
        double variance = linear.Residuals.Sum(residual => residual * residual) / freedom;
        if (LeastSquares.Solve([ones, decay, slope], observed) is not { } whole)
        {
            return Reason.Undetermined("Nothing moves, so there is no time constant.");
        }

        double t95 = StudentT.Quantile(0.975, freedom);
        SettlingParameter Parameter(double value, int index)
        {
            double error = Math.Sqrt(variance * whole.UnscaledCovariance[index, index]);
            return new SettlingParameter(value, error, value - (t95 * error), value + (t95 * error));
        }

        return new SettlingFit(Parameter(linear.Coefficients[0], 0), Parameter(amplitude, 1), Parameter(tau, 2), Math.Sqrt(variance), first);
    }

    /// <summary>Sum of squares that is left for a tau.</summary>
    internal static double Squares(double[] since, double[] observed, double logTau)
    {
        double tau = Math.Exp(logTau), n = since.Length;
        double[] decay = [.. since.Select(t => Math.Exp(-t / tau))];
        double meanDecay = decay.Sum() / n, mean = observed.Sum() / n;
        double across = 0, along = 0, all = 0;
        for (int i = 0; i < since.Length; i++)
        {
            double e = decay[i] - meanDecay, z = observed[i] - mean;
            (across, along, all) = (across + (e * z), along + (e * e), all + (z * z));
        }

        return along > 0 ? Math.Max(0, all - (across * across / along)) : all;
    }

    /// <summary>Golden-section search (Kiefer 1953).</summary>
    private static double Minimum(Func<double, double> of, double low, double high)
    {
        double share = (Math.Sqrt(5) - 1) / 2;
        double left = high - (share * (high - low)), right = low + (share * (high - low));
        double atLeft = of(left), atRight = of(right);
        const double Narrow = 1e-10;
        while (high - low > Narrow)
        {
            if (atLeft < atRight)
            {
                (high, right, atRight) = (right, left, atLeft);
                left = high - (share * (high - low));
                atLeft = of(left);
            }
            else
            {
                (low, left, atLeft) = (left, right, atRight);
                right = low + (share * (high - low));
                atRight = of(right);
            }
        }

        return (low + high) / 2;
    }
}
