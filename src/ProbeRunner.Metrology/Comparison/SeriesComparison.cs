using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Comparison;

/// <summary>Two series compared: before and after a repair, fast touches against slow.</summary>
/// <param name="MeanDifference">Second mean less first, in the unit of the readings.</param>
/// <param name="DifferenceLower">Lower limit.</param>
/// <param name="DifferenceUpper">Upper limit.</param>
/// <param name="DegreesOfFreedom">Of the difference (Welch 1947, Satterthwaite 1946).</param>
/// <param name="DifferencePValue">Two-sided, of equal means; 1 when neither series scatters and the means agree.</param>
/// <param name="SigmaRatio">Second standard deviation over the first.</param>
/// <param name="RatioLower">Lower limit, by F; normal readings assumed.</param>
/// <param name="RatioUpper">Upper limit.</param>
/// <param name="RatioPValue">Two-sided, of equal sigmas.</param>
/// <param name="Confidence">Of both intervals, 0 to 1.</param>
public sealed record SeriesComparison(
    double MeanDifference,
    double DifferenceLower,
    double DifferenceUpper,
    double DegreesOfFreedom,
    double DifferencePValue,
    double SigmaRatio,
    double RatioLower,
    double RatioUpper,
    double RatioPValue,
    double Confidence)
{
    /// <summary>Compares two series of two readings or more each, neither of them constant.</summary>
    public static Answer<SeriesComparison> Of(IReadOnlyList<double> first, IReadOnlyList<double> second, double confidence = 0.95)
    {
        if (confidence is not (> 0 and < 1))
        {
            return Reason.OutOfRange("A confidence lies between 0 and 1.");
        }

        return Welch.Of(first, second).Then<SeriesComparison>(welch =>
        {
            double half = welch.StandardError * StudentT.Quantile((1 + confidence) / 2, welch.DegreesOfFreedom);
            double ratio = Moments.StandardDeviation(second) / Moments.StandardDeviation(first);
            double f = ratio * ratio;
            double upper = second.Count - 1;
            double lower = first.Count - 1;
            double tail = (1 - confidence) / 2;
            return new SeriesComparison(
                welch.Difference,
                welch.Difference - half,
                welch.Difference + half,
                welch.DegreesOfFreedom,
                StudentT.TwoSided(welch.Difference / welch.StandardError, welch.DegreesOfFreedom),
                ratio,
                Math.Sqrt(f / FisherF.Quantile(1 - tail, upper, lower)),
                Math.Sqrt(f / FisherF.Quantile(tail, upper, lower)),
                Math.Min(1, 2 * Math.Min(FisherF.Below(f, upper, lower), FisherF.Above(f, upper, lower))),
                confidence);
        });
    }
}
