using ProbeRunner.Metrology.Distributions;

namespace ProbeRunner.Metrology.Thresholds;

/// <summary>The normal distribution function from a table, good to 2e-6: a belief over thousands of cells asks for it very often.</summary>
internal static class NormalTable
{
    private const int PerUnit = 128;
    private const double Edge = 6;
    private static readonly double[] Values = [.. Enumerable.Range(0, (int)(2 * Edge * PerUnit) + 2).Select(i => StandardNormal.Below(((double)i / PerUnit) - Edge))];

    internal static double Below(double z)
    {
        if (z <= -Edge)
        {
            return 0;
        }

        if (z >= Edge)
        {
            return 1;
        }

        double place = (z + Edge) * PerUnit;
        int cell = (int)place;
        return Values[cell] + ((place - cell) * (Values[cell + 1] - Values[cell]));
    }
}
