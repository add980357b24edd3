using ProbeRunner.Metrology.Distributions;

namespace ProbeRunner.Metrology.Verdicts;

/// <summary>A law of scatter about a place, with a standard deviation (of its core, for the one with outliers).</summary>
internal abstract class ScatterShape
{
    /// <summary>The normal law.</summary>
    internal static readonly ScatterShape Normal = new NormalShape();

    /// <summary>Student's t with 4 degrees of freedom, scaled to the standard deviation.</summary>
    internal static readonly ScatterShape HeavyTailed = new HeavyTailedShape();

    /// <summary>98 readings in 100 normal, two spread six times as wide.</summary>
    internal static readonly ScatterShape WithOutliers = new WithOutliersShape();

    /// <summary>Probability of a deviation below <paramref name="z"/> standard deviations.</summary>
    internal abstract double Below(double z);

    /// <summary>ln of the product of the densities, in units of 1 / sigma, at all of the deviations.</summary>
    internal abstract double LogDensity(ReadOnlySpan<double> deviations, double location, double sigma);

    private sealed class NormalShape : ScatterShape
    {
        internal const double HalfLogTwoPi = 0.9189385332046727;

        internal override double Below(double z) => StandardNormal.Below(z);

        internal override double LogDensity(ReadOnlySpan<double> deviations, double location, double sigma)
        {
            double squares = 0;
            foreach (double deviation in deviations)
            {
                double z = (deviation - location) / sigma;
                squares += z * z;
            }

            return (-squares / 2) - (HalfLogTwoPi * deviations.Length);
        }
    }

    private sealed class HeavyTailedShape : ScatterShape
    {
        private static readonly double LogPeak = Math.Log(0.375 * Math.Sqrt(2));

        /// <summary>1/2 + 3/4 (x - x^3/3) with x = t / sqrt(4 + t^2), t = z sqrt(2).</summary>
        internal override double Below(double z)
        {
            double x = z / Math.Sqrt(2 + (z * z));
            return 0.5 + (0.75 * (x - (x * x * x / 3)));
        }

        internal override double LogDensity(ReadOnlySpan<double> deviations, double location, double sigma)
        {
            // One logarithm for many factors 1 + t^2/4; taken before the product could overflow.
            double logs = 0;
            double product = 1;
            foreach (double deviation in deviations)
            {
                double z = (deviation - location) / sigma;
                product *= 1 + (z * z / 2);
                if (product > 1e200)
                {
                    logs += Math.Log(product);
                    product = 1;
                }
            }

            return (deviations.Length * LogPeak) - (2.5 * (logs + Math.Log(product)));
        }
    }

    private sealed class WithOutliersShape : ScatterShape
    {
        private const double Share = 0.02;
        private const double Width = 6;

        internal override double Below(double z) => ((1 - Share) * StandardNormal.Below(z)) + (Share * StandardNormal.Below(z / Width));

        internal override double LogDensity(ReadOnlySpan<double> deviations, double location, double sigma)
        {
            double logs = 0;
            double product = 1;
            foreach (double deviation in deviations)
            {
                double z = (deviation - location) / sigma;
                double square = Math.Min(z * z / 2, 1e6);
                product *= ((1 - Share) * Math.Exp(-square)) + (Share / Width * Math.Exp(-square / (Width * Width)));
                if (product < 1e-200)
                {
                    logs += product > 0 ? Math.Log(product) : Math.Log(Share / Width) - (square / (Width * Width));
                    product = 1;
                }
            }

            return logs + Math.Log(product) - (NormalShape.HalfLogTwoPi * deviations.Length);
        }
    }
}
