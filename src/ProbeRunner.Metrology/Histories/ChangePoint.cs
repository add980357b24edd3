using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Histories;

/// <summary>
/// Where a series of values steps from one level to another: the split with the largest two-sample t (Worsley 1979), its p-value corrected for all splits
/// tried (Bonferroni). A single last value counts as a split too: the newest run may be the one that differs.
/// </summary>
/// <param name="First">Index of the first value of the new level.</param>
/// <param name="Size">New mean less old mean.</param>
/// <param name="Lower">Lower 95 % limit of the size, the split taken as known.</param>
/// <param name="Upper">Upper limit.</param>
/// <param name="T">The t.</param>
/// <param name="PValue">Two-sided, all splits counted.</param>
/// <param name="ResidualSquares">Sum of squares about the two means.</param>
public sealed record ChangePoint(int First, double Size, double Lower, double Upper, double T, double PValue, double ResidualSquares)
{
    private const int Fewest = 5;

    /// <summary>Looks for a step among five values or more that are not all equal.</summary>
    public static Answer<ChangePoint> Of(IReadOnlyList<double> values)
    {
        if (Finite.Check(values, Fewest, "A search for a step") is { } why)
        {
            return why;
        }

        if (!(Moments.SquaredDeviations(values) > 0))
        {
            return Reason.Constant("A search for a step");
        }

        ChangePoint best = Enumerable.Range(1, values.Count - 1).Select(split => At(values, split)).MinBy(found => found.ResidualSquares)!;
        return double.IsFinite(best.Size) && double.IsFinite(best.T) ? best : Reason.OutOfRange("The values are too large to be summed.");
    }

    private static ChangePoint At(IReadOnlyList<double> values, int split)
    {
        double[] before = [.. values.Take(split)], after = [.. values.Skip(split)];
        int freedom = values.Count - 2;
        double squares = Squares(before) + Squares(after), size = Moments.Mean(after) - Moments.Mean(before);

        // Two exactly level stretches have no scatter to judge by: the smallest that doubles tell apart from none stands in.
        double least = Math.Pow(1e-9 * values.Max(Math.Abs), 2);
        double error = Math.Sqrt(Math.Max(squares, least) / freedom * ((1.0 / before.Length) + (1.0 / after.Length)));
        double t = size / error, half = error * StudentT.Quantile(0.975, freedom);
        return new ChangePoint(split, size, size - half, size + half, t, Math.Min(1, (values.Count - 1) * StudentT.TwoSided(t, freedom)), squares);
    }

    private static double Squares(double[] values) => values.Length < 2 ? 0 : Moments.SquaredDeviations(values);
}
