using System.Numerics;
using MathNet.Numerics;
using MathNet.Numerics.IntegralTransforms;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Series;

/// <summary>A swing that repeats along the series, by Fisher's test of the largest line of the periodogram (Fisher 1929). A straight drift is taken out first.</summary>
/// <param name="PeriodReadings">Readings from crest to crest.</param>
/// <param name="Amplitude">Half of crest to trough, in the unit of the readings.</param>
/// <param name="Share">Share of the scatter that this one line explains, 0 to 1.</param>
/// <param name="PValue">Of so large a share among independent normal readings.</param>
public sealed record Periodicity(double PeriodReadings, double Amplitude, double Share, double PValue)
{
    /// <summary>Searches all periods from two readings to the whole series; twelve readings that differ, or more.</summary>
    public static Answer<Periodicity> Of(IReadOnlyList<double> readings)
    {
        if (Finite.Check(readings, 12, "A search for a period") is { } why)
        {
            return why;
        }

        return Trend.Of(readings).Then<Periodicity>(trend =>
        {
            int n = readings.Count;
            Complex[] lines = [.. readings.Select((r, i) => new Complex(r - trend.Intercept - (trend.SlopePerUnit * i), 0))];
            Fourier.Forward(lines, FourierOptions.AsymmetricScaling);
            int most = (n - 1) / 2;
            double[] power = [.. lines.Skip(1).Take(most).Select(line => 4 * line.Magnitude * line.Magnitude / n / n)];
            double total = power.Sum();
            if (!(total > 1e-26 * trend.Intercept * trend.Intercept) || !double.IsFinite(total))
            {
                return Reason.Constant("A search for a period");
            }

            int at = Array.IndexOf(power, power.Max());
            double share = power[at] / total;
            return new Periodicity((double)n / (at + 1), Math.Sqrt(power[at]), share, Chance(share, most));
        });
    }

    /// <summary>Fisher's exact sum; its first term, an upper bound, where the alternating terms would cancel.</summary>
    internal static double Chance(double share, int lines)
    {
        double first = Math.Min(1, lines * Math.Pow(1 - share, lines - 1));
        if (lines > 60 && first > 0.2)
        {
            return first;
        }

        double sum = 0;
        for (int j = 1; j <= Math.Min(lines, (int)(1 / share)); j++)
        {
            double term = Math.Exp(SpecialFunctions.BinomialLn(lines, j) + ((lines - 1) * Math.Log(Math.Max(1 - (j * share), double.Epsilon))));
            sum += j % 2 == 1 ? term : -term;
        }

        return Math.Clamp(sum, 0, 1);
    }
}
