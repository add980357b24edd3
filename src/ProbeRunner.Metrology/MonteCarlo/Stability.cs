using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.MonteCarlo;

/// <summary>Whether the rounds of an adaptive run agree well enough to stop (JCGM 101:2008, 7.9.4 e to i).</summary>
/// <param name="Tolerance">Half a unit of the last significant digit of the standard uncertainty (7.9.2).</param>
/// <param name="Settled">Whether twice the standard error of every figure lies below the tolerance.</param>
internal readonly record struct Stability(double Tolerance, bool Settled)
{
    internal static Stability Of(List<MonteCarloResult> rounds, List<double> all, int significantDigits)
    {
        double tolerance = ToleranceOf(Moments.StandardDeviation(all), significantDigits);
        Func<MonteCarloResult, double>[] figures =
            [round => round.Mean, round => round.StandardUncertainty, round => round.Shortest.Lower, round => round.Shortest.Upper];
        return new Stability(tolerance, figures.All(figure => 2 * StandardError([.. rounds.Select(figure)]) <= tolerance));
    }

    /// <summary>The numerical tolerance of a standard uncertainty quoted to so many significant digits.</summary>
    internal static double ToleranceOf(double uncertainty, int significantDigits) => uncertainty > 0
        ? 0.5 * Math.Pow(10, Math.Floor(Math.Log10(uncertainty)) - significantDigits + 1)
        : 0;

    private static double StandardError(double[] values) => Moments.StandardDeviation(values) / Math.Sqrt(values.Length);
}
