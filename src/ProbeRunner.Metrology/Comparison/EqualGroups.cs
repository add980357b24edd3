using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Comparison;

/// <summary>One test over several series.</summary>
/// <param name="Statistic">Its value.</param>
/// <param name="PValue">Of series that do not differ.</param>
public sealed record GroupTest(double Statistic, double PValue);

/// <summary>Whether several series share one mean and one sigma.</summary>
/// <param name="Means">F test of equal means.</param>
/// <param name="SigmasIfNormal">Bartlett's test of equal sigmas: sharp, but any non-normality sets it off.</param>
/// <param name="SigmasRobust">Levene's test about medians (Brown and Forsythe 1974).</param>
public sealed record EqualGroups(GroupTest Means, GroupTest SigmasIfNormal, GroupTest SigmasRobust)
{
    /// <summary>Tests two series or more, each of two readings or more and none constant.</summary>
    public static Answer<EqualGroups> Of(IReadOnlyList<IReadOnlyList<double>> groups)
    {
        ArgumentNullException.ThrowIfNull(groups);
        if (groups.Count < 2)
        {
            return Reason.TooFew("A comparison of series", 2, groups.Count);
        }

        foreach (IReadOnlyList<double> group in groups)
        {
            if (Finite.Check(group, 2, "Each series") is { } why)
            {
                return why;
            }

            if (!(Moments.SquaredDeviations(group) > 0))
            {
                return Reason.Constant("Each series");
            }
        }

        double[][] distances = [.. groups.Select(group =>
        {
            double median = Moments.Median(group);
            return group.Select(r => Math.Abs(r - median)).ToArray();
        })];
        return Variance(distances) is { } levene && Variance(groups) is { } means && Bartlett(groups) is { } bartlett
            ? new EqualGroups(means, bartlett, levene)
            : Reason.OutOfRange("The readings are too large or too few to be compared.");
    }

    /// <summary>One-way analysis of variance; null when nothing scatters within the groups.</summary>
    private static GroupTest? Variance(IReadOnlyList<IReadOnlyList<double>> groups)
    {
        int count = groups.Sum(g => g.Count);
        double mean = Moments.Mean([.. groups.SelectMany(g => g)]);
        double between = groups.Sum(g => g.Count * Math.Pow(Moments.Mean(g) - mean, 2)) / (groups.Count - 1);
        double within = groups.Sum(Moments.SquaredDeviations) / (count - groups.Count);
        double f = between / within;
        return double.IsFinite(f) ? new GroupTest(f, FisherF.Above(f, groups.Count - 1, count - groups.Count)) : null;
    }

    private static GroupTest? Bartlett(IReadOnlyList<IReadOnlyList<double>> groups)
    {
        double freedom = groups.Sum(g => g.Count - 1);
        double pooled = groups.Sum(Moments.SquaredDeviations) / freedom;
        double t = (freedom * Math.Log(pooled)) - groups.Sum(g => (g.Count - 1) * Math.Log(Moments.SquaredDeviations(g) / (g.Count - 1)));
        t /= 1 + ((groups.Sum(g => 1.0 / (g.Count - 1)) - (1 / freedom)) / (3 * (groups.Count - 1)));
        return double.IsFinite(t) ? new GroupTest(t, ChiSquare.Above(t, groups.Count - 1)) : null;
    }
}
