using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Verdicts;

/// <summary>
/// How well a law of scatter explains readings whose place is unknown: the likelihood integrated over the place, every place alike.
/// Readings on a comb are counted by the probability of their teeth, so that a coarse step is not taken for scatter.
/// </summary>
internal sealed class ScatterLikelihood
{
    /// <summary>A comb finer than this share of the good sigma changes nothing.</summary>
    private const double HarmlessComb = 0.2;

    /// <summary>A comb wider than this many bad sigmas is no resolution of readings but the probe's own clicking between heights.</summary>
    private const double WidestComb = 2;

    /// <summary>Two thirds of the good sigma's standard error apart: the trapezoid rule is then exact to many digits.</summary>
    private const int Places = 49;

    /// <summary>Half of the good sigma's standard error, likewise, on a comb.</summary>
    private const int PlacesPerStandardError = 2;

    private readonly double[] deviations;
    private readonly double good;
    private readonly double bad;
    private readonly double[] steps;

    /// <summary>Prepares readings for laws with either of two sigmas.</summary>
    internal ScatterLikelihood(IReadOnlyList<double> readings, double good, double bad)
    {
        double centre = Moments.Median(readings);
        deviations = [.. readings.Select(r => r - centre)];
        this.good = good;
        this.bad = bad;
        steps = Steps(readings);
    }

    /// <summary>ln of the likelihood of a shape with a sigma, up to a constant that all shapes and sigmas share.</summary>
    internal double Log(ScatterShape shape, double sigma)
    {
        if (steps.Length == 0)
        {
            return shape == ScatterShape.Normal ? LogNormal(sigma) : LogContinuous(shape, sigma);
        }

        return LogSum([.. steps.Select(step => LogOnComb(shape, sigma, step))]);
    }

    /// <summary>ln of a sum of exponentials, without overflow.</summary>
    internal static double LogSum(ReadOnlySpan<double> logs)
    {
        double largest = double.NegativeInfinity;
        foreach (double log in logs)
        {
            largest = Math.Max(largest, log);
        }

        if (double.IsNegativeInfinity(largest))
        {
            return largest;
        }

        double sum = 0;
        foreach (double log in logs)
        {
            sum += Math.Exp(log - largest);
        }

        return largest + Math.Log(sum);
    }

    /// <summary>
    /// Steps that the comb may have: readings so far may have missed teeth, so the common step and its half and third; when all are
    /// equal, steps about the good sigma. Empty when there is no comb that matters.
    /// </summary>
    private double[] Steps(IReadOnlyList<double> readings)
    {
        if (readings.All(r => r == readings[0]))
        {
            return [2 * good, good, good / 2, good / 4];
        }

        // Two readings always have their difference for a common step: only a comb through 0, as of a print-out, shows so early.
        return CommonStep.Of(readings.Count > 2 ? readings : [0, .. readings]) is { } step && step >= HarmlessComb * good && step <= WidestComb * bad ? [step, step / 2, step / 3] : [];
    }

    /// <summary>The normal law has its integral in closed form.</summary>
    private double LogNormal(double sigma)
    {
        int n = deviations.Length;
        double squares = Moments.SquaredDeviations(deviations);
        return (-(n - 1) * (Math.Log(sigma) + 0.9189385332046727)) - (squares / (2 * sigma * sigma)) - (0.5 * Math.Log(n));
    }

    private double LogContinuous(ScatterShape shape, double sigma)
    {
        double half = 8 * bad / Math.Sqrt(deviations.Length);
        double spacing = 2 * half / (Places - 1);
        Span<double> logs = stackalloc double[Places];
        for (int i = 0; i < Places; i++)
        {
            logs[i] = shape.LogDensity(deviations, (i * spacing) - half, sigma);
        }

        return LogSum(logs) + Math.Log(spacing) - (deviations.Length * Math.Log(sigma));
    }

    /// <summary>Places lie on a lattice that divides the step, so that one table of the law serves all teeth and places.</summary>
    private double LogOnComb(ScatterShape shape, double sigma, double step)
    {
        double half = (8 * bad / Math.Sqrt(deviations.Length)) + step;
        int division = Math.Clamp((int)Math.Ceiling(step * PlacesPerStandardError * Math.Sqrt(deviations.Length) / good), 8, 64);
        double spacing = step / division;
        int reach = (int)Math.Ceiling(half / spacing);
        (int Tooth, int Count)[] teeth = [.. deviations
            .Select(d => (int)Math.Round((d - deviations[0]) / step))
            .GroupBy(tooth => tooth)
            .Select(g => (g.Key, g.Count()))];
        int lowest = teeth.Min(t => t.Tooth);
        int highest = teeth.Max(t => t.Tooth);
        long cells = ((long)(highest - lowest + 1) * division) + (2L * reach) + 1;
        if (cells > 200_000)
        {
            return LogContinuous(shape, sigma) + (deviations.Length * Math.Log(step));
        }

        // below[i]: probability of a deviation under the edge that lies i cells above the lowest edge seen from the highest place.
        var below = new double[cells];
        double first = deviations[0] + ((lowest - 0.5) * step) - (reach * spacing);
        for (int i = 0; i < below.Length; i++)
        {
            below[i] = shape.Below((first + (i * spacing)) / sigma);
        }

        var logs = new double[(2 * reach) + 1];
        for (int place = 0; place < logs.Length; place++)
        {
            foreach ((int tooth, int count) in teeth)
            {
                int edge = ((tooth - lowest) * division) + place;
                logs[place] += count * Math.Log(Math.Max(below[edge + division] - below[edge], 1e-300));
            }
        }

        return LogSum(logs) + Math.Log(spacing);
    }
}
