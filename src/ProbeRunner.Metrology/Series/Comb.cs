using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Series;

/// <summary>A comb on which readings sit: the step of a motor, a counter or a print-out.</summary>
/// <param name="Step">Distance of neighbouring teeth, in the unit of the readings.</param>
/// <param name="Concentration">1 when every reading is exactly on a tooth, 0 when none cares.</param>
/// <param name="PValue">Chance of as much concentration without a comb (Rayleigh's test, all steps tried counted).</param>
/// <param name="StepOverSigma">Step over the standard deviation of the readings: below about 0.5 the comb does no harm.</param>
public sealed record Comb(double Step, double Concentration, double PValue, double StepOverSigma)
{
    /// <summary>Steps finer than this share of the range can't be told from continuous readings.</summary>
    private const double FinestShare = 1.0 / 400;

    /// <summary>A blurred comb that this many readings don't show is no comb.</summary>
    private const int MostScanned = 500;

    /// <summary>Finds the comb, exact or blurred; refused when there is none, and for fewer than six readings or equal ones.</summary>
    public static Answer<Comb> Find(IReadOnlyList<double> readings)
    {
        if (Finite.Check(readings, 6, "A search for a comb") is { } why)
        {
            return why;
        }

        double range = readings.Max() - readings.Min();
        double sigma = Moments.StandardDeviation(readings);
        if (!(range > 0) || !double.IsFinite(sigma))
        {
            return Reason.Constant("A search for a comb");
        }

        double finest = range * FinestShare;
        if (CommonStep.Of(readings) is { } exact && exact >= finest)
        {
            return new Comb(exact, 1, Chance(1, readings.Count, range / exact), exact / sigma);
        }

        // A smooth law of this sigma is itself lumpy for steps above 2 sigma, so blurred combs are sought below.
        double[] scanned = [.. readings.Take(MostScanned)];
        double bestPower = 0;
        double bestTeeth = 0;
        int trials = 0;
        for (double teeth = range / (2 * sigma); teeth <= 1 / FinestShare; teeth += 0.1)
        {
            double power = Concentrate(scanned, range / teeth);
            trials++;
            if (power > bestPower)
            {
                (bestPower, bestTeeth) = (power, teeth);
            }
        }

        double chance = Chance(bestPower, scanned.Length, trials);
        return chance < 0.01
            ? new Comb(range / bestTeeth, bestPower, chance, range / bestTeeth / sigma)
            : Reason.Undetermined("The readings sit on no comb that can be seen.");
    }

    /// <summary>Length of the mean of unit vectors whose angle is the reading's place between teeth.</summary>
    private static double Concentrate(double[] readings, double step)
    {
        double cosine = 0;
        double sine = 0;
        for (int i = 0; i < readings.Length; i++)
        {
            (double s, double c) = Math.SinCos(2 * Math.PI * (readings[i] - readings[0]) / step);
            cosine += c;
            sine += s;
        }

        return Math.Sqrt((cosine * cosine) + (sine * sine)) / readings.Length;
    }

    private static double Chance(double concentration, int count, double trials) =>
        Math.Min(1, Math.Max(1, trials) * Math.Exp(-count * concentration * concentration));
}
