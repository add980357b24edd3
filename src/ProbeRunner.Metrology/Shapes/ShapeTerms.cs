using ProbeRunner.Metrology.LinearAlgebra;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Shapes;

/// <summary>One term of a surface's shape.</summary>
/// <param name="Coefficient">Size of the term, mm over the box.</param>
/// <param name="StandardError">Standard error of the coefficient, mm; 0 when no reading is left over to judge it by.</param>
public readonly record struct ShapeTerm(double Coefficient, double StandardError);

/// <summary>
/// The shape of a surface as people speak of it: height = Constant + TiltX u/2 + TiltY v/2 + BowX (u^2 - 1/3) + BowY (v^2 - 1/3) + Twist u v,
/// with u and v from -1 to 1 over the box. The terms are Legendre polynomials up to their scale, so over a full grid they hardly depend on each other.
/// </summary>
/// <param name="Box">The box over which u and v run.</param>
/// <param name="Constant">Mean height over the box.</param>
/// <param name="TiltX">Rise from the left edge to the right one.</param>
/// <param name="TiltY">Rise from the front edge to the back one.</param>
/// <param name="BowX">Height of the left and right edges over the middle, positive for a hollow.</param>
/// <param name="BowY">Height of the front and back edges over the middle, positive for a hollow.</param>
/// <param name="Twist">Height of the front-left and back-right corners over the mean of the corners.</param>
/// <param name="ResidualStandardDeviation">What the six terms leave, n - 6 degrees of freedom, mm; 0 for six readings.</param>
public sealed record ShapeTerms(
    Box Box,
    ShapeTerm Constant,
    ShapeTerm TiltX,
    ShapeTerm TiltY,
    ShapeTerm BowX,
    ShapeTerm BowY,
    ShapeTerm Twist,
    double ResidualStandardDeviation)
{
    /// <summary>Height of the six terms at a place, mm.</summary>
    public double HeightAt(double x, double y)
    {
        double u = Box.U(x), v = Box.V(y);
        return Constant.Coefficient + (TiltX.Coefficient * u / 2) + (TiltY.Coefficient * v / 2)
            + (BowX.Coefficient * ((u * u) - (1.0 / 3))) + (BowY.Coefficient * ((v * v) - (1.0 / 3))) + (Twist.Coefficient * u * v);
    }

    /// <summary>
    /// Least-squares fit of the six terms over the readings' own box, or over <paramref name="box"/>.
    /// Refused for fewer than six readings and for places that do not determine all terms.
    /// </summary>
    public static Answer<ShapeTerms> Fit(IReadOnlyList<SurfacePoint> points, Box? box = null)
    {
        if (Places.Check(points, 6, "A shape of six terms") is { } why)
        {
            return why;
        }

        Box over = box ?? Box.Around(points);
        if (!over.HasArea)
        {
            return Reason.OutOfRange("The box of a shape must have a width and a depth greater than zero.");
        }

        double reference = points[0].Z;
        double[] u = [.. points.Select(p => over.U(p.X))], v = [.. points.Select(p => over.V(p.Y))];
        LeastSquares? fit = LeastSquares.Solve(
            [
                [.. points.Select(_ => 1.0)],
                [.. u.Select(at => at / 2)],
                [.. v.Select(at => at / 2)],
                [.. u.Select(at => (at * at) - (1.0 / 3))],
                [.. v.Select(at => (at * at) - (1.0 / 3))],
                [.. u.Zip(v, (a, b) => a * b)],
            ],
            [.. points.Select(p => p.Z - reference)]);
        if (fit is null)
        {
            return Reason.Undetermined("These places do not determine tilt, bow and twist; at least three columns and three rows are needed.");
        }

        int freedom = points.Count - 6;
        double deviation = freedom > 0 ? Math.Sqrt(fit.Residuals.Sum(r => r * r) / freedom) : 0;
        ShapeTerm Term(int k) => new(fit.Coefficients[k] + (k == 0 ? reference : 0), deviation * Math.Sqrt(fit.UnscaledCovariance[k, k]));
        return new ShapeTerms(over, Term(0), Term(1), Term(2), Term(3), Term(4), Term(5), deviation);
    }
}
