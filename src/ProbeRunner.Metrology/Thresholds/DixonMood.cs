using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Thresholds;

/// <summary>The up-and-down estimate (Dixon and Mood 1948, JASA 43:109): for a staircase of equal steps, its first run-in left out by the caller.</summary>
/// <param name="Threshold">Height at which half of the answers are yes.</param>
/// <param name="Sigma">Standard deviation of the height at which drag is felt; a rough figure.</param>
/// <param name="Spread">Dixon and Mood's M; above 0.3 the formula for sigma holds, below it sigma is set to 0.53 of the step.</param>
/// <param name="Counted">Number of answers of the rarer kind, which alone are used.</param>
public sealed record DixonMood(double Threshold, double Sigma, double Spread, int Counted)
{
    private const double SmallestSpread = 0.3;

    /// <summary>Standard error of the threshold: G sigma / sqrt(N).</summary>
    /// <param name="chartFactor">Dixon and Mood's G, from their chart by step over sigma; about 1 for steps near sigma.</param>
    public double StandardError(double chartFactor = 1) => chartFactor * Sigma / Math.Sqrt(Counted);

    /// <summary>Estimates from trials on a lattice of heights.</summary>
    /// <param name="trials">Two or more, with both answers among them.</param>
    /// <param name="step">Distance of neighbouring heights, above 0.</param>
    public static Answer<DixonMood> Of(IReadOnlyList<Trial> trials, double step)
    {
        ArgumentNullException.ThrowIfNull(trials);
        if (Finite.Check([.. trials.Select(t => t.Height)], 2, "An up-and-down estimate") is { } why)
        {
            return why;
        }

        if (!(step > 0) || !double.IsFinite(step))
        {
            return Reason.OutOfRange("An up-and-down estimate needs a step above 0.");
        }

        int felt = trials.Count(t => t.Felt);
        bool useFelt = felt < trials.Count - felt;
        double[] heights = [.. trials.Where(t => t.Felt == useFelt).Select(t => t.Height)];
        if (heights.Length == 0)
        {
            return Reason.Undetermined("Every answer was the same: the threshold lies beyond the heights asked about.");
        }

        double lowest = heights.Min();
        double[] levels = [.. heights.Select(h => Math.Round((h - lowest) / step))];
        if (heights.Zip(levels, (h, i) => Math.Abs(h - lowest - (i * step))).Any(error => error > 0.01 * step))
        {
            return Reason.Assumption("An up-and-down estimate needs heights that lie whole steps apart.");
        }

        int n = heights.Length;
        double a = levels.Sum();
        double b = levels.Sum(i => i * i);
        double spread = ((n * b) - (a * a)) / ((double)n * n);
        double sigma = spread > SmallestSpread ? 1.620 * step * (spread + 0.029) : 0.53 * step;
        return new DixonMood(lowest + (step * ((a / n) + (useFelt ? -0.5 : 0.5))), sigma, spread, n);
    }
}
