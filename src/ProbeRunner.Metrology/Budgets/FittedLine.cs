using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Budgets;

/// <summary>
/// A straight line y = intercept + slope (x - origin) fitted by least squares, with the covariance of its two numbers,
/// so that it predicts with an uncertainty (JCGM 100:2008, H.3). The origin is where the intercept is wanted.
/// </summary>
public sealed class FittedLine
{
    private readonly JointEstimates parameters;

    private FittedLine(double origin, double residualStandardDeviation, JointEstimates parameters)
    {
        Origin = origin;
        ResidualStandardDeviation = residualStandardDeviation;
        this.parameters = parameters;
    }

    /// <summary>The x at which the intercept holds.</summary>
    public double Origin { get; }

    /// <summary>Value of the line at the origin.</summary>
    public double Intercept => parameters.Values[0];

    /// <summary>Change of y for a unit of x.</summary>
    public double Slope => parameters.Values[1];

    /// <summary>Standard uncertainty of the intercept.</summary>
    public double InterceptUncertainty => parameters.StandardUncertainties[0];

    /// <summary>Standard uncertainty of the slope.</summary>
    public double SlopeUncertainty => parameters.StandardUncertainties[1];

    /// <summary>Correlation coefficient of intercept and slope.</summary>
    public double Correlation => parameters.Correlation(0, 1);

    /// <summary>Standard deviation of a point about the line, n - 2 degrees of freedom.</summary>
    public double ResidualStandardDeviation { get; }

    /// <summary>Degrees of freedom of all the uncertainties: n - 2.</summary>
    public double DegreesOfFreedom => parameters.DegreesOfFreedom!.Value;

    /// <summary>Fits the line to at least three points at two or more different x.</summary>
    /// <param name="x">Positions, taken as known exactly.</param>
    /// <param name="y">Values at those positions, of equal uncertainty.</param>
    /// <param name="origin">The x at which the intercept is wanted.</param>
    public static Answer<FittedLine> Fit(IReadOnlyList<double> x, IReadOnlyList<double> y, double origin = 0)
    {
        if ((Finite.Check(x, 3, "A line with its uncertainty") ?? Finite.Check(y, 3, "A line with its uncertainty")) is { } wrong)
        {
            return wrong;
        }

        if (x.Count != y.Count || !double.IsFinite(origin))
        {
            return Reason.OutOfRange("A line needs as many values as positions, and a finite origin.");
        }

        double meanX = Moments.Mean(x);
        double meanY = Moments.Mean(y);
        double spread = Moments.SquaredDeviations(x);
        if (!(spread > 1e-24 * x.Max(value => value * value) * x.Count))
        {
            return Reason.Undetermined("A line needs values at two or more different positions.");
        }

        double slope = x.Zip(y, (a, b) => (a - meanX) * (b - meanY)).Sum() / spread;
        double intercept = meanY + (slope * (origin - meanX));
        double variance = x.Zip(y, (a, b) => Math.Pow(b - meanY - (slope * (a - meanX)), 2)).Sum() / (x.Count - 2);
        double reach = origin - meanX;
        var covariance = new double[2, 2];
        covariance[0, 0] = variance * ((1.0 / x.Count) + (reach * reach / spread));
        covariance[1, 1] = variance / spread;
        covariance[0, 1] = covariance[1, 0] = variance * reach / spread;
        return JointEstimates.Checked([intercept, slope], covariance, x.Count - 2)
            .Then<FittedLine>(fitted => new FittedLine(origin, Math.Sqrt(variance), fitted));
    }

    /// <summary>The slope's interval: slope less and plus Student's t times its standard uncertainty (JCGM 100:2008, G.3), for residuals that are normal.</summary>
    /// <param name="confidence">Above 0, below 1.</param>
    public Answer<(double Lower, double Upper)> SlopeInterval(double confidence) =>
        CoverageFactor.For(confidence, DegreesOfFreedom).Then<(double Lower, double Upper)>(
            factor => (Slope - (factor * SlopeUncertainty), Slope + (factor * SlopeUncertainty)));

    /// <summary>The line's value at <paramref name="x"/> with its standard uncertainty (JCGM 100:2008, formula H.15).</summary>
    public Answer<Contribution> At(double x)
    {
        double reach = x - Origin;
        double variance = parameters.Covariance(0, 0) + (2 * reach * parameters.Covariance(0, 1)) + (reach * reach * parameters.Covariance(1, 1));
        double value = Intercept + (Slope * reach);
        return double.IsFinite(value) && double.IsFinite(variance)
            ? new Contribution("fitted line", value, Math.Sqrt(Math.Max(0, variance))) { DegreesOfFreedom = DegreesOfFreedom }
            : Reason.NotFinite("Position", 0);
    }
}
