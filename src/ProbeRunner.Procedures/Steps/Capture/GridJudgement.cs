using System.Collections.Immutable;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Metrology.Flatness;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Shapes;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>What a finished capture says about the bed.</summary>
internal static class GridJudgement
{
    private const int LongestSide = 41;
    private const double TiltWorthTurningMm = 0.2;
    private const double BendWorthNamingMm = 0.15;
    private const double MostOutlierShare = 0.1;
    private const double MapTargetMm = 0.02;

    /// <summary>Concludes.</summary>
    public static StepConclusion Conclude(StepContext context, GridParameters parameters, GridPlaces grid, GridTally tally, string conditions)
    {
        ImmutableArray<Reading> readings = [.. tally.Counting];
        double? sigma = context.EarlierOrNull<SeriesConclusion>()?.SigmaMm is { } measured and > 0 ? Math.Max(measured, 0.001) : null;
        Answer<CapturedSurface> fitted = CapturedSurface.Of(readings, Plate(context.Profile), context.Profile.Travel.HomingPlace, sigma);
        if (fitted.Refusal is { } why)
        {
            return new PlainConclusion(Verdicts.Undecided($"No map can be made of these readings: {why.Message}"), []);
        }

        CapturedSurface surface = fitted.Value;
        var area = new Box(grid.Area.MinX, grid.Area.MinY, grid.Area.MaxX, grid.Area.MaxY);
        UncertainMap map = surface.Map(area, Lattice(area.Width, area), Lattice(area.Depth, area));
        List<SurfacePoint> points = surface.Points(readings);
        ShapeTerms? shape = ShapeTerms.Fit(points, area).OrElse(null);
        MinimumZone? zone = MinimumZone.Fit(points).OrElse(null);
        PlaneFit plane = PlaneFit.LeastSquares(points).Value;
        double tiltX = shape?.TiltX.Coefficient ?? plane.Plane.A * area.Width;
        double tiltY = shape?.TiltY.Coefficient ?? plane.Plane.B * area.Depth;
        return new CaptureConclusion(
            Judge(tally, map),
            [.. Findings(tally, grid, tiltX, tiltY, plane)],
            grid.Area,
            parameters.Columns,
            parameters.Rows,
            readings,
            new SurfaceMap(grid.Area, map.Heights.Xs.Length, map.Heights.Ys.Length, map.Heights.Heights, map.StandardDeviations),
            tiltX,
            tiltY,
            zone?.Width ?? 0,
            plane.Rms,
            conditions);
    }

    /// <summary>The whole plate.</summary>
    public static Box Plate(MachineProfile profile) => new(0, 0, profile.Bed.WidthMm, profile.Bed.DepthMm);

    private static StepVerdict Judge(GridTally tally, UncertainMap map)
    {
        double outliers = (double)tally.Outliers.Count / (tally.Outliers.Count + tally.Counting.Count);
        if (outliers > MostOutlierShare)
        {
            return Verdicts.NotFit(FormattableString.Invariant($"{outliers:P0} of the touches contradict others of the same place."), 0.95);
        }

        double sure = map.RmsStandardDeviation;
        return sure <= MapTargetMm
            ? Verdicts.Fit(FormattableString.Invariant($"The map is sure to {sure:0.000} mm on average, from {tally.Counting.Count} readings."), 0.95)
            : Verdicts.Fit(FormattableString.Invariant($"The map is sure to {sure:0.000} mm on average only, from {tally.Counting.Count} readings; a denser grid would tell more."), 0.8);
    }

    private static IEnumerable<Finding> Findings(GridTally tally, GridPlaces grid, double tiltX, double tiltY, PlaneFit plane)
    {
        double tilt = Math.Max(Math.Abs(tiltX), Math.Abs(tiltY));
        if (tilt > TiltWorthTurningMm)
        {
            yield return new Finding(
                "grid.tilted", "The bed is tilted more than a mesh should have to correct.", tilt, "bed", 0.95,
                FormattableString.Invariant($"It rises by {tiltX:0.00} mm from left to right and by {tiltY:0.00} mm from front to back."),
                "Level it at its screws, then capture again.");
        }

        if (plane.PeakToValley > BendWorthNamingMm)
        {
            yield return new Finding(
                "grid.not-flat", "The bed is not flat, whatever its tilt.", plane.PeakToValley, "bed", 0.95,
                FormattableString.Invariant($"From highest to lowest it leaves its own plane by {plane.PeakToValley:0.00} mm."),
                "The correction mesh takes care of most of it; screws can't. A bend beyond half a millimetre wants another plate.");
        }

        if (tally.Outliers.Count > 0)
        {
            yield return new Finding(
                "grid.touches-disagree", "Some touches contradicted others of the same place and were not counted.", null, "bed", 0.9,
                FormattableString.Invariant($"{tally.Outliers.Count} of {tally.Outliers.Count + tally.Counting.Count} touches."),
                "If it happens often, look for dirt on bed or probe, and for electrical noise on the probe's cable.");
        }

        if (grid.LeftOut.Length > 0)
        {
            yield return new Finding(
                "grid.places-left-out", "Some places of the grid lie on clips and were not touched.", null, "bed", 1,
                FormattableString.Invariant($"{grid.LeftOut.Length} of {grid.LeftOut.Length + grid.Places.Length} places."),
                "Nothing to do; the map is continued there from its surroundings, less surely.");
        }
    }

    private static int Lattice(double side, Box area) =>
        Math.Max(5, (int)Math.Round(LongestSide * side / Math.Max(area.Width, area.Depth)));
}
