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
internal static class CaptureJudgement
{
    private const int LongestSide = 41;
    private const double MostOutlierShare = 0.1;
    private const double MapTargetMm = 0.02;

    /// <summary>Degrees of freedom from which the touches' own scatter is judged.</summary>
    private const int EnoughRepeats = 20;

    /// <summary>Concludes.</summary>
    /// <param name="knownSigmaMm">Standard deviation of one touch from elsewhere, for a run that measured none itself; null when there is none.</param>
    public static StepConclusion Conclude(
        StepContext context, CapturedArea captured, CaptureTally tally, CaptureConditions conditions, CaptureGoal? goal = null, double? knownSigmaMm = null)
    {
        ImmutableArray<Reading> readings = [.. tally.Counting];
        MachineProfile profile = context.Profile;
        double? touchSigma = TouchSigma(context, tally) ?? knownSigmaMm;
        Answer<CapturedSurface> fitted = readings.IsEmpty
            ? Reason.TooFew("A map", 3, 0)
            : CapturedSurface.Of(readings, Plate(profile), profile.Travel.HomingPlace, ReadingSigma(touchSigma, tally));
        if (fitted.Refusal is { } why)
        {
            return new PlainConclusion(Verdicts.Undecided($"No map can be made of these readings: {why.Message}"), []);
        }

        CapturedSurface surface = fitted.Value;
        var area = new Box(captured.Area.MinX, captured.Area.MinY, captured.Area.MaxX, captured.Area.MaxY);
        UncertainMap map = surface.Map(area, Lattice(area.Width, area), Lattice(area.Depth, area));
        List<SurfacePoint> points = surface.Points(readings);
        ShapeTerms? shape = ShapeTerms.Fit(points, area).OrElse(null);
        PlaneFit plane = PlaneFit.LeastSquares(points).Value;
        CaptureDetails details = CaptureEvidence.Of(tally, surface, map, shape, profile, goal);
        return new CaptureConclusion(
            Judge(tally, map, touchSigma, profile.Probe, goal),
            [.. CaptureFindings.Of(tally, captured, plane, details, profile)],
            captured.Area,
            captured.Columns,
            captured.Rows,
            readings,
            new SurfaceMap(captured.Area, map.Heights.Xs.Length, map.Heights.Ys.Length, map.Heights.Heights, map.StandardDeviations),
            shape?.TiltX.Coefficient ?? plane.Plane.A * area.Width,
            shape?.TiltY.Coefficient ?? plane.Plane.B * area.Depth,
            MinimumZone.Fit(points).OrElse(null)?.Width ?? 0,
            plane.Rms,
            conditions.Described,
            details)
        { TakenUnder = conditions.TakenUnder };
    }

    /// <summary>The whole plate.</summary>
    public static Box Plate(MachineProfile profile) => new(0, 0, profile.Bed.WidthMm, profile.Bed.DepthMm);

    /// <summary>Standard deviation of one touch: of this capture's own repeats when there are enough, else of a series before it; null when neither is there.</summary>
    public static double? TouchSigma(StepContext context, CaptureTally tally)
    {
        const double Least = 0.001;
        return tally.FreedomWithin >= EnoughRepeats
            ? Math.Max(tally.SigmaWithinMm, Least)
            : context.EarlierOrNull<SeriesConclusion>()?.SigmaMm is { } measured and > 0 ? Math.Max(measured, Least) : null;
    }

    private static double? ReadingSigma(double? touchSigma, CaptureTally tally) =>
        touchSigma / Math.Sqrt(Math.Max(1, (double)(tally.Touches - tally.OutlierCount) / tally.Counting.Count));

    private static StepVerdict Judge(CaptureTally tally, UncertainMap map, double? touchSigma, ProbeProfile probe, CaptureGoal? goal)
    {
        double outliers = (double)tally.OutlierCount / tally.Touches;
        if (outliers > MostOutlierShare)
        {
            return Verdicts.NotFit(FormattableString.Invariant($"This map can't be trusted: {outliers:P0} of the touches contradict others of the same place."), 0.95);
        }

        if (tally.FreedomWithin >= EnoughRepeats && touchSigma > probe.BadSigmaMm)
        {
            return Verdicts.NotFit(
                FormattableString.Invariant($"This map can't be trusted: touches of one place scatter by {touchSigma:0.000} mm, more than the {probe.BadSigmaMm:0.000} mm of a bad probe."), 0.95);
        }

        double sure = map.RmsStandardDeviation;
        string how = FormattableString.Invariant($"The map is sure to {sure:0.000} mm on average, from {tally.Touches} touches");
        if (goal is not null)
        {
            return goal.Met
                ? Verdicts.Fit(FormattableString.Invariant($"{how}; {goal.TargetRmsMm:0.000} mm was wanted."), 0.95)
                : Verdicts.Undecided(FormattableString.Invariant($"{how}; the {goal.TargetRmsMm:0.000} mm that was wanted was not reached within the touches and minutes allowed."), 0.8);
        }

        return sure <= MapTargetMm
            ? Verdicts.Fit($"{how}.", 0.95)
            : Verdicts.Fit($"{how} only; a denser grid would tell more.", 0.8);
    }

    private static int Lattice(double side, Box area) =>
        Math.Max(5, (int)Math.Round(LongestSide * side / Math.Max(area.Width, area.Depth)));
}
