namespace ProbeRunner.Metrology.MonteCarlo;

/// <summary>An interval that holds the quantity with a stated probability.</summary>
/// <param name="Lower">Lower end.</param>
/// <param name="Upper">Upper end.</param>
public readonly record struct CoverageInterval(double Lower, double Upper)
{
    /// <summary>Upper end less lower end.</summary>
    public double Width => Upper - Lower;

    /// <summary>The shortest interval that holds the given part of sorted draws (JCGM 101:2008, 7.7.4).</summary>
    internal static CoverageInterval Shortest(double[] sorted, double probability)
    {
        int held = Held(sorted, probability);
        int best = 0;
        for (int start = 1; start + held < sorted.Length; start++)
        {
            if (sorted[start + held] - sorted[start] < sorted[best + held] - sorted[best])
            {
                best = start;
            }
        }

        return new CoverageInterval(sorted[best], sorted[best + held]);
    }

    /// <summary>The interval with equal probability left out at either end (JCGM 101:2008, 7.7.3).</summary>
    internal static CoverageInterval Symmetric(double[] sorted, double probability)
    {
        int held = Held(sorted, probability);
        int start = (sorted.Length - held) / 2;
        return new CoverageInterval(sorted[start], sorted[Math.Min(start + held, sorted.Length - 1)]);
    }

    private static int Held(double[] sorted, double probability) =>
        Math.Min((int)Math.Round(probability * sorted.Length, MidpointRounding.AwayFromZero), sorted.Length - 1);
}
