using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Series;

/// <summary>Whether readings rise or fall with time, whatever the shape of the drift (Mann 1945, Kendall 1975; Gilbert 1987, ch. 16).</summary>
/// <param name="S">Rising pairs less falling pairs.</param>
/// <param name="Variance">Variance of S without drift, corrected for ties.</param>
/// <param name="Z">(S -+ 1) / sqrt(variance); 0 when all readings are equal.</param>
/// <param name="PValue">Two-sided: exact up to 40 readings without ties, normal beyond.</param>
/// <param name="SenSlope">Median of all pairwise slopes, per reading.</param>
/// <param name="SenLower">Lower 95 % limit of that slope, per reading.</param>
/// <param name="SenUpper">Upper 95 % limit of that slope, per reading.</param>
public sealed record MannKendall(long S, double Variance, double Z, double PValue, double SenSlope, double SenLower, double SenUpper)
{
    private const int LargestExact = 40;

    /// <summary>Tests readings in the order taken; three or more.</summary>
    public static Answer<MannKendall> Of(IReadOnlyList<double> readings)
    {
        if (Finite.Check(readings, 3, "A Mann-Kendall test") is { } why)
        {
            return why;
        }

        double[] values = [.. readings];
        double n = values.Length;
        double[] sorted = [.. values.Order()];
        int[] ties = [.. KendallCount.TieSizes(sorted)];
        long score = KendallCount.Score(values);
        double variance = ((n * (n - 1) * ((2 * n) + 5)) - ties.Sum(t => (double)t * (t - 1) * ((2 * t) + 5))) / 18;
        double z = variance > 0 ? (score - Math.Sign(score)) / Math.Sqrt(variance) : 0;
        double p = ties.Length == 0 && values.Length <= LargestExact
            ? Math.Min(1, 2 * ShareAtOrAbove(values.Length, Math.Abs(score)))
            : StandardNormal.TwoSided(z);
        double reach = 1.959963984540054 * Math.Sqrt(Math.Max(variance, 0));
        return new MannKendall(
            score,
            variance,
            z,
            p,
            SenSlopes.AtScore(values, 0),
            SenSlopes.AtScore(values, reach),
            SenSlopes.AtScore(values, -reach));
    }

    /// <summary>Exact probability, without drift and ties, that S is at least <paramref name="score"/>: a count over all orders.</summary>
    internal static double ShareAtOrAbove(int count, long score)
    {
        // Share of the orders of 1..n with k falling pairs, built one reading at a time.
        double[] shares = [1];
        for (int n = 2; n <= count; n++)
        {
            var next = new double[shares.Length + n - 1];
            for (int k = 0; k < shares.Length; k++)
            {
                for (int added = 0; added < n; added++)
                {
                    next[k + added] += shares[k] / n;
                }
            }

            shares = next;
        }

        int pairs = count * (count - 1) / 2;
        return shares.Take((int)((pairs - score) / 2) + 1).Sum();
    }
}
