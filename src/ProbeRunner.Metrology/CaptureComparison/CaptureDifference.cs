using System.Collections.Immutable;
using MathNet.Numerics.Distributions;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Shapes;

namespace ProbeRunner.Metrology.CaptureComparison;

/// <summary>How one term of the shape changed from the earlier to the later capture.</summary>
/// <param name="ChangeMm">Later less earlier, mm over the area.</param>
/// <param name="StandardError">Its standard uncertainty, mm.</param>
/// <param name="PValue">Two-sided probability of so large a change if nothing had changed.</param>
public readonly record struct ShapeChange(double ChangeMm, double StandardError, double PValue);

/// <summary>A place where the later map differs from the earlier one after tilt, bow and twist are taken off both.</summary>
/// <param name="X">Place, mm.</param>
/// <param name="Y">Place, mm.</param>
/// <param name="ChangeMm">Later less earlier, mm.</param>
/// <param name="StandardDeviation">Its standard uncertainty, mm.</param>
/// <param name="PValue">Probability of so large a change at the most changed of all independent places if nothing had changed.</param>
public readonly record struct LocalChange(double X, double Y, double ChangeMm, double StandardDeviation, double PValue);

/// <summary>
/// Two captures of one bed compared. Each homing sets its own datum, so a common shift is no change of the bed: it is taken off and shown apart.
/// </summary>
/// <param name="Difference">Later less earlier, the shift taken off, with its uncertainty.</param>
/// <param name="ShiftMm">Mean of later less earlier over the area, mm: datum, offset or thickness of the plate.</param>
/// <param name="TiltX">Change of the tilt along X.</param>
/// <param name="TiltY">Change of the tilt along Y.</param>
/// <param name="BowX">Change of the bow along X.</param>
/// <param name="BowY">Change of the bow along Y.</param>
/// <param name="Twist">Change of the twist.</param>
/// <param name="Largest">The largest local change.</param>
/// <param name="Places">How many places were judged as independent.</param>
public sealed record CaptureDifference(
    UncertainMap Difference,
    double ShiftMm,
    ShapeChange TiltX,
    ShapeChange TiltY,
    ShapeChange BowX,
    ShapeChange BowY,
    ShapeChange Twist,
    LocalChange Largest,
    int Places)
{
    private const int Side = 21;

    /// <summary>Compares two maps over an area. Refused when the area has no extent.</summary>
    /// <param name="earlier">The earlier capture.</param>
    /// <param name="later">The later capture.</param>
    /// <param name="area">Where both are to be believed.</param>
    public static Answer<CaptureDifference> Between(SurfacePosterior earlier, SurfacePosterior later, Box area)
    {
        ArgumentNullException.ThrowIfNull(earlier);
        ArgumentNullException.ThrowIfNull(later);
        if (!area.HasArea)
        {
            return Reason.OutOfRange("The area to compare must have a width and a depth greater than zero.");
        }

        ImmutableArray<double> xs = SurfaceMap.Evenly(area.MinX, area.MaxX, Side), ys = SurfaceMap.Evenly(area.MinY, area.MaxY, Side);
        UncertainMap before = earlier.PredictMap(xs, ys), after = later.PredictMap(xs, ys);
        double[] change = [.. after.Heights.Heights.Zip(before.Heights.Heights, (b, a) => b - a)];
        double[] deviations = [.. after.StandardDeviations.Zip(before.StandardDeviations, (b, a) => Math.Sqrt((a * a) + (b * b)))];
        SurfacePoint[] points = [.. change.Select((z, k) => new SurfacePoint(xs[k % Side], ys[k / Side], z))];
        int places = IndependentPlaces(earlier, later, area);
        return ShapeTerms.Fit(points, area).Then<CaptureDifference>(shape =>
        {
            ShapeChange Changed(ShapeTerm term, double perUnit) => Judge(term.Coefficient, perUnit * RootMeanSquare(deviations) / Math.Sqrt(places));
            return new CaptureDifference(
                new UncertainMap(new SurfaceMap(xs, ys, [.. change.Select(z => z - shape.Constant.Coefficient)]), [.. deviations]),
                shape.Constant.Coefficient,
                Changed(shape.TiltX, 2 * Math.Sqrt(3)),
                Changed(shape.TiltY, 2 * Math.Sqrt(3)),
                Changed(shape.BowX, 1.5 * Math.Sqrt(5)),
                Changed(shape.BowY, 1.5 * Math.Sqrt(5)),
                Changed(shape.Twist, 3),
                MostChanged(points, deviations, shape, places),
                places);
        });
    }

    /// <summary>The standard error of a Legendre coefficient from independent places: the error's size over the term's own, over the root of their number.</summary>
    private static ShapeChange Judge(double change, double standardError) =>
        new(change, standardError, 2 * Normal.CDF(0, 1, -Math.Abs(change) / standardError));

    private static LocalChange MostChanged(SurfacePoint[] points, double[] deviations, ShapeTerms shape, int places)
    {
        int most = Enumerable.Range(0, points.Length).MaxBy(k => Math.Abs(points[k].Z - shape.HeightAt(points[k].X, points[k].Y)) / deviations[k]);
        SurfacePoint at = points[most];
        double change = at.Z - shape.HeightAt(at.X, at.Y);
        double single = 2 * Normal.CDF(0, 1, -Math.Abs(change) / deviations[most]);
        return new LocalChange(at.X, at.Y, change, deviations[most], Math.Min(1, places * single)); // Bonferroni
    }

    /// <summary>The maps' errors hang together over about the distance of their touches: no more independent places than the sparser capture has readings, nor than the lattice has.</summary>
    private static int IndependentPlaces(SurfacePosterior earlier, SurfacePosterior later, Box area)
    {
        double length = Math.Max(earlier.LengthMm, later.LengthMm);
        double byLength = Math.Max(1, area.Width / length) * Math.Max(1, area.Depth / length);
        return (int)Math.Clamp(Math.Max(byLength, Math.Min(earlier.Readings, later.Readings)), 1, Side * Side);
    }

    private static double RootMeanSquare(double[] values) => Math.Sqrt(values.Average(v => v * v));
}
