using ProbeRunner.Metrology.Distributions;

namespace ProbeRunner.Metrology.Nested;

/// <summary>
/// Limits of a combination of mean squares with coefficients of either sign: the modified large-sample method
/// (Ting, Burdick, Graybill, Jeyaratnam and Lu 1990, J. Statist. Comput. Simul. 35:135; Burdick and Graybill 1992, 3.3).
/// </summary>
internal static class LargeSampleLimits
{
    internal static (double Lower, double Upper) Of(double[] coefficients, double[] meanSquares, double[] freedom, double confidence)
    {
        double tail = (1 - confidence) / 2;
        double centre = 0;
        double lower = 0;
        double upper = 0;
        for (int q = 0; q < coefficients.Length; q++)
        {
            double own = coefficients[q] * meanSquares[q];
            centre += own;
            double narrow = Narrow(freedom[q], tail);
            double wide = Wide(freedom[q], tail);
            bool positive = coefficients[q] > 0;
            lower += Square((positive ? narrow : wide) * own);
            upper += Square((positive ? wide : narrow) * own);
            for (int r = 0; r < coefficients.Length; r++)
            {
                if (coefficients[q] > 0 && coefficients[r] < 0)
                {
                    double product = own * -coefficients[r] * meanSquares[r];
                    lower += CrossLower(freedom[q], freedom[r], tail) * product;
                    upper += CrossUpper(freedom[q], freedom[r], tail) * product;
                }
                else if (q < r && coefficients[q] * coefficients[r] > 0)
                {
                    int alike = coefficients.Count(c => c * coefficients[q] > 0);
                    double product = own * coefficients[r] * meanSquares[r] * SameSign(freedom[q], freedom[r], tail) / (alike - 1);
                    lower += positive ? product : 0;
                    upper += positive ? 0 : product;
                }
            }
        }

        return (centre - Math.Sqrt(Math.Max(0, lower)), centre + Math.Sqrt(Math.Max(0, upper)));
    }

    /// <summary>G = 1 - nu / chi-square upper quantile.</summary>
    private static double Narrow(double freedom, double tail) => 1 - (freedom / ChiSquare.Quantile(1 - tail, freedom));

    /// <summary>H = nu / chi-square lower quantile - 1.</summary>
    private static double Wide(double freedom, double tail) => (freedom / ChiSquare.Quantile(tail, freedom)) - 1;

    private static double CrossLower(double q, double r, double tail)
    {
        double f = FisherF.Quantile(1 - tail, q, r);
        return (Square(f - 1) - Square(Narrow(q, tail) * f) - Square(Wide(r, tail))) / f;
    }

    private static double CrossUpper(double q, double r, double tail)
    {
        double f = FisherF.Quantile(tail, q, r);
        return (Square(1 - f) - Square(Wide(q, tail) * f) - Square(Narrow(r, tail))) / f;
    }

    private static double SameSign(double q, double r, double tail)
    {
        double both = q + r;
        return (Square(Narrow(both, tail)) * both * both / (q * r)) - (Square(Narrow(q, tail)) * q / r) - (Square(Narrow(r, tail)) * r / q);
    }

    private static double Square(double x) => x * x;
}
