namespace ProbeRunner.Metrology.Series;

/// <summary>The largest step of which all differences between readings are whole multiples.</summary>
internal static class CommonStep
{
    /// <summary>The step, or null when readings are equal or share none coarser than a hundred thousandth of a millimetre or of their range.</summary>
    internal static double? Of(IReadOnlyList<double> readings)
    {
        double first = readings[0];
        double range = 0;
        double size = 0;
        for (int i = 0; i < readings.Count; i++)
        {
            range = Math.Max(range, Math.Abs(readings[i] - first));
            size = Math.Max(size, Math.Abs(readings[i]));
        }

        // Rounding to a comb leaves errors of a few units in the last place of the readings.
        double noise = Math.Max(size * 1e-13, range * 1e-9);
        double step = 0;
        for (int i = 1; i < readings.Count; i++)
        {
            step = Divisor(Math.Abs(readings[i] - first), step, noise);
            if (step > 0 && step < 1e3 * noise)
            {
                return null;
            }
        }

        return step > 0 ? step : null;
    }

    /// <summary>Euclid's algorithm on lengths, remainders within the noise taken for none.</summary>
    private static double Divisor(double a, double b, double noise)
    {
        while (b > noise)
        {
            double remainder = a - (b * Math.Round(a / b));
            (a, b) = (b, Math.Abs(remainder));
        }

        return a > noise ? a : 0;
    }
}
