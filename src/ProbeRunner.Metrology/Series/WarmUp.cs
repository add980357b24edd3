using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Series;

/// <summary>First touches that differ from the rest.</summary>
/// <param name="Touches">How many of the first touches stand apart; the split that shows most.</param>
/// <param name="Shift">Their mean less the mean of the rest.</param>
/// <param name="PValue">Two-sided, all splits tried counted (Sidak).</param>
public sealed record WarmUp(int Touches, double Shift, double PValue)
{
    /// <summary>Compares the first 1 to <paramref name="atMost"/> readings with the rest; eight that differ, or more.</summary>
    public static Answer<WarmUp> Of(IReadOnlyList<double> readings, int atMost = 5)
    {
        if (Finite.Check(readings, 8, "A search for warm-up") is { } why)
        {
            return why;
        }

        int n = readings.Count;
        int most = Math.Clamp(atMost, 1, n / 2);
        (int Touches, double Shift, double P) best = (0, 0, 2);
        for (int first = 1; first <= most; first++)
        {
            double[] early = [.. readings.Take(first)];
            double[] late = [.. readings.Skip(first)];
            double shift = Moments.Mean(early) - Moments.Mean(late);
            double squares = Moments.SquaredDeviations(early) + Moments.SquaredDeviations(late);
            double error = Math.Sqrt(squares / (n - 2) * ((1.0 / first) + (1.0 / (n - first))));
            double p = error > 0 ? StudentT.TwoSided(shift / error, n - 2) : shift == 0 ? 1 : 0;
            if (p < best.P)
            {
                best = (first, shift, p);
            }
        }

        return double.IsFinite(best.Shift)
            ? new WarmUp(best.Touches, best.Shift, 1 - Math.Pow(1 - Math.Min(best.P, 1), most))
            : Reason.OutOfRange("The readings are too large to be summed.");
    }
}
