using System.Collections.Immutable;
using ProbeRunner.Metrology.LinearAlgebra;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Planes;

/// <summary>A plane fitted to readings, with what the fit leaves over.</summary>
/// <param name="Plane">The plane.</param>
/// <param name="Covariance">Covariance of A, B, C row by row (nine numbers); zeros when three points leave nothing to judge it by.</param>
/// <param name="Residuals">Reading minus plane, mm, in the order of the readings.</param>
/// <param name="StandardDeviation">Residual standard deviation with n - 3 degrees of freedom, mm; 0 for three points.</param>
/// <param name="Weights">Weight of each reading: 1 in a least-squares fit, 0 to 1 in a robust one.</param>
public sealed record PlaneFit(
    Plane Plane,
    ImmutableArray<double> Covariance,
    ImmutableArray<double> Residuals,
    double StandardDeviation,
    ImmutableArray<double> Weights)
{
    /// <summary>Bisquare constant: 95 % efficient for normal residuals (Huber and Ronchetti, Robust Statistics, 2nd ed.).</summary>
    private const double BisquareConstant = 4.685;

    /// <summary>Median absolute deviation to standard deviation, for normal residuals.</summary>
    private const double NormalPerMedianDeviation = 1.482602218505602;

    private const int RobustRounds = 50;

    /// <summary>Root mean square of the residuals, divided by n, mm.</summary>
    public double Rms => Math.Sqrt(Residuals.Average(residual => residual * residual));

    /// <summary>Largest minus smallest residual, mm: the least-squares flatness when the fit is a least-squares one (ISO 12781-1).</summary>
    public double PeakToValley => Residuals.Max() - Residuals.Min();

    /// <summary>Standard error of the slope along X.</summary>
    public double StandardErrorA => Math.Sqrt(Covariance[0]);

    /// <summary>Standard error of the slope along Y.</summary>
    public double StandardErrorB => Math.Sqrt(Covariance[4]);

    /// <summary>Standard error of the plane's height at a place, mm.</summary>
    public double StandardErrorAt(double x, double y)
    {
        ReadOnlySpan<double> at = [x, y, 1];
        double variance = 0;
        for (int i = 0; i < 3; i++)
        {
            for (int j = 0; j < 3; j++)
            {
                variance += at[i] * Covariance[(3 * i) + j] * at[j];
            }
        }

        return Math.Sqrt(Math.Max(0, variance));
    }

    /// <summary>The plane with the least sum of squared vertical residuals. Refused for fewer than three readings, places on one line, numbers that are not finite.</summary>
    public static Answer<PlaneFit> LeastSquares(IReadOnlyList<SurfacePoint> points) =>
        Places.Check(points, 3, "A plane") is { } why ? why : Fit(points, null);

    /// <summary>
    /// A plane that a few bad readings do not pull: iterated reweighted least squares with Tukey's bisquare
    /// and the median absolute deviation as scale. Covariance as of a least-squares fit with the final weights.
    /// </summary>
    public static Answer<PlaneFit> Robust(IReadOnlyList<SurfacePoint> points)
    {
        if (Places.Check(points, 3, "A robust plane") is { } why)
        {
            return why;
        }

        // The start must not be pulled already: least absolute deviations, by weights 1/|residual|.
        PlaneFit fit = Fit(points, null);
        double smallest = 1e-6 * Math.Max(fit.PeakToValley, double.Epsilon);
        for (int round = 0; round < RobustRounds && fit.PeakToValley > 0; round++)
        {
            fit = Fit(points, [.. fit.Residuals.Select(residual => 1 / Math.Max(Math.Abs(residual), smallest))]);
        }

        for (int round = 0; round < RobustRounds; round++)
        {
            double scale = NormalPerMedianDeviation * Median([.. fit.Residuals.Select(Math.Abs)]);
            if (!(scale > smallest))
            {
                break; // more than half of the readings lie exactly on the plane
            }

            Plane before = fit.Plane;
            fit = Fit(points, [.. fit.Residuals.Select(residual => Bisquare(residual / (BisquareConstant * scale)))]);
            if (before == fit.Plane)
            {
                break;
            }
        }

        return fit with { Weights = [.. fit.Weights.Select(weight => Math.Min(1, weight))] };
    }

    private static double Bisquare(double ratio) => Math.Abs(ratio) >= 1 ? 0 : (1 - (ratio * ratio)) * (1 - (ratio * ratio));

    private static double Median(double[] values)
    {
        Array.Sort(values);
        return (values[(values.Length - 1) / 2] + values[values.Length / 2]) / 2;
    }

    /// <summary>Fits in coordinates centred on the box and scaled to it, so that neither place nor unit costs digits.</summary>
    private static PlaneFit Fit(IReadOnlyList<SurfacePoint> points, double[]? weights)
    {
        Box box = Box.Around(points);
        double scale = Math.Max(box.Width, box.Depth), centreX = (box.MinX + box.MaxX) / 2, centreY = (box.MinY + box.MaxY) / 2;
        double reference = points[0].Z;
        double[][] columns =
        [
            [.. points.Select(p => (p.X - centreX) / scale)], [.. points.Select(p => (p.Y - centreY) / scale)], [.. points.Select(_ => 1.0)],
        ];
        LeastSquares? solved = LinearAlgebra.LeastSquares.Solve(columns, [.. points.Select(p => p.Z - reference)], weights)
            ?? LinearAlgebra.LeastSquares.Solve(columns, [.. points.Select(p => p.Z - reference)])!;
        double a = solved.Coefficients[0] / scale, b = solved.Coefficients[1] / scale;
        double[] used = weights ?? [.. points.Select(_ => 1.0)];
        double squares = 0, total = 0;
        for (int i = 0; i < used.Length; i++)
        {
            squares += used[i] * solved.Residuals[i] * solved.Residuals[i];
            total += used[i];
        }

        double freedom = (weights is null ? points.Count : total) - 3;
        double variance = freedom > 0 ? squares / freedom : 0;
        return new PlaneFit(
            new Plane(a, b, solved.Coefficients[2] + reference - (a * centreX) - (b * centreY)),
            InBedCoordinates(solved.UnscaledCovariance, variance, scale, centreX, centreY),
            [.. solved.Residuals],
            Math.Sqrt(variance),
            [.. used]);
    }

    /// <summary>J V J-transposed, where (A, B, C) = J times the scaled coefficients.</summary>
    private static ImmutableArray<double> InBedCoordinates(double[,] unscaled, double variance, double scale, double centreX, double centreY)
    {
        double[,] jacobian = { { 1 / scale, 0, 0 }, { 0, 1 / scale, 0 }, { -centreX / scale, -centreY / scale, 1 } };
        double[] covariance = new double[9];
        for (int i = 0; i < 3; i++)
        {
            for (int j = 0; j < 3; j++)
            {
                for (int k = 0; k < 9; k++)
                {
                    covariance[(3 * i) + j] += variance * jacobian[i, k / 3] * unscaled[k / 3, k % 3] * jacobian[j, k % 3];
                }
            }
        }

        return [.. covariance];
    }
}
