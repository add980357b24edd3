using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Series;

/// <summary>Number of stretches above and below the median (Wald and Wolfowitz; e-Handbook 1.3.5.13). Readings at the median are left out.</summary>
/// <param name="Runs">Stretches counted.</param>
/// <param name="Above">Readings above the median.</param>
/// <param name="Below">Readings below the median.</param>
/// <param name="Expected">Stretches expected of independent readings.</param>
/// <param name="StandardDeviation">Their standard deviation.</param>
/// <param name="Z">Negative when there are too few: slow changes; positive when too many: alternation.</param>
/// <param name="PValue">Two-sided, normal.</param>
public sealed record RunsTest(int Runs, int Above, int Below, double Expected, double StandardDeviation, double Z, double PValue)
{
    /// <summary>Counts the stretches of readings in the order taken; ten that differ, or more.</summary>
    public static Answer<RunsTest> Of(IReadOnlyList<double> readings)
    {
        if (Finite.Check(readings, 10, "A runs test") is { } why)
        {
            return why;
        }

        double median = Moments.Median(readings);
        bool[] sides = [.. readings.Where(r => r != median).Select(r => r > median)];
        double above = sides.Count(side => side);
        double below = sides.Length - above;
        if (above < 2 || below < 2)
        {
            return Reason.Constant("A runs test");
        }

        int runs = 1 + Enumerable.Range(1, sides.Length - 1).Count(i => sides[i] != sides[i - 1]);
        double both = 2 * above * below;
        double expected = 1 + (both / sides.Length);
        double sd = Math.Sqrt(both * (both - sides.Length) / ((double)sides.Length * sides.Length * (sides.Length - 1)));
        double z = (runs - expected) / sd;
        return new RunsTest(runs, (int)above, (int)below, expected, sd, z, StandardNormal.TwoSided(z));
    }
}
