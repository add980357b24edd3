namespace ProbeRunner.Metrology.Distributions;

/// <summary>The root of an increasing function on the positive numbers, by Newton steps kept inside a bracket.</summary>
internal static class PositiveRoot
{
    /// <summary>Solves <paramref name="value"/>(x) = 0 for x &gt; 0.</summary>
    /// <param name="value">Increasing, negative near 0, positive far out.</param>
    /// <param name="slope">Its derivative.</param>
    /// <param name="start">A first guess, positive.</param>
    internal static double Find(Func<double, double> value, Func<double, double> slope, double start)
    {
        double low = 0;
        double high = double.PositiveInfinity;
        double x = start;
        for (int i = 0; i < 400; i++)
        {
            double error = value(x);
            if (error < 0)
            {
                low = x;
            }
            else
            {
                high = x;
            }

            double next = x - (error / slope(x));
            if (!(next > low && next < high))
            {
                next = double.IsPositiveInfinity(high) ? 2 * x : 0.5 * (low + high);
            }

            if (Math.Abs(next - x) <= 1e-15 * x)
            {
                return next;
            }

            x = next;
        }

        return x;
    }
}
