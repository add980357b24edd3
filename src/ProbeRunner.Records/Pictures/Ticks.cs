namespace ProbeRunner.Records.Pictures;

/// <summary>Round numbers for axes and contour levels.</summary>
public static class Ticks
{
    /// <summary>A step of 1, 2 or 5 times a power of ten that divides a span into about the wanted number of parts.</summary>
    public static double Step(double span, int wanted)
    {
        if (!(span > 0) || !double.IsFinite(span))
        {
            return 1;
        }

        double raw = span / wanted;
        double power = Math.Pow(10, Math.Floor(Math.Log10(raw)));
        double fraction = raw / power;
        return (fraction <= 1 ? 1 : fraction <= 2 ? 2 : fraction <= 5 ? 5 : 10) * power;
    }

    /// <summary>The multiples of a step within a range, ends included.</summary>
    public static IEnumerable<double> Within(double low, double high, double step)
    {
        long first = (long)Math.Ceiling((low / step) - 1e-9);
        long last = (long)Math.Floor((high / step) + 1e-9);
        for (long multiple = first; multiple <= last; multiple++)
        {
            yield return multiple * step;
        }
    }

    /// <summary>How many decimals show a step exactly.</summary>
    public static int Decimals(double step) => Math.Clamp((int)Math.Ceiling(-Math.Log10(step) - 1e-9), 0, 6);
}
