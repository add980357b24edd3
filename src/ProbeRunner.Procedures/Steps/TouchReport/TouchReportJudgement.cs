using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.TouchReport;

/// <summary>
/// What touch reports say beside what was asked and where the nozzle was found. A single report may be damaged on the wire, so that only
/// what most of them show counts.
/// </summary>
public static class TouchReportJudgement
{
    /// <summary>A stored Z offset smaller than this can't tell a report that includes it from one that does not, mm.</summary>
    public const double LeastTellingOffsetMm = 0.4;

    private const double SamePlaceMm = 0.05;
    private const double SameHeightMm = 0.15;
    private const double FollowsMm = 0.05;

    /// <summary>What is wrong with places and with how heights follow the machine; empty when nothing is.</summary>
    /// <param name="checks">Touches at several places.</param>
    /// <param name="offset">The probe offset in force.</param>
    public static ImmutableArray<Finding> OfPlaces(ImmutableArray<TouchCheck> checks, ProbeOffset offset)
    {
        var found = ImmutableArray.CreateBuilder<Finding>();
        TouchCheck example = checks[0];
        if (Most(checks, check => check.Reported is null))
        {
            found.Add(New("unreadable", "The controller's touch reports can't be read.", "No report in them fits the dialect's pattern.", "Correct the touch pattern in a copy of the dialect file; the wire's log beside the run's store shows what the controller says."));
            return found.ToImmutable();
        }

        if (Most(checks, check => check.Reported is { } at && Apart(at, check.Asked) > SamePlaceMm))
        {
            bool isNozzle = Most(checks, check => check.Reported is { } at && Apart(at, Nozzle(check.Asked, offset)) <= SamePlaceMm);
            found.Add(New(
                "other-place",
                isNozzle ? "Touch reports name the nozzle's place instead of the probe's." : "Touch reports name another place than the one that was touched.",
                FormattableString.Invariant($"Sent to x {example.Asked.X:0.00}, y {example.Asked.Y:0.00}; reported x {example.Reported?.X:0.00}, y {example.Reported?.Y:0.00}."),
                "Readings of such a controller can't be told apart by their place, so nothing is measured with it. Correct the dialect's touch pattern, or controller_origin_mm in the machine's profile."));
        }

        if (Most(checks, check => Apart(new BedPoint(check.After.X, check.After.Y), Nozzle(check.Asked, offset)) > SamePlaceMm))
        {
            found.Add(New(
                "position-elsewhere",
                "After a touch the nozzle is not where the probe offset puts it.",
                FormattableString.Invariant($"The probe was sent to x {example.Asked.X:0.00}, y {example.Asked.Y:0.00} with an offset of {offset.X:0.00}, {offset.Y:0.00}; the nozzle is at x {example.After.X:0.00}, y {example.After.Y:0.00}."),
                "The controller touches beside the places it is sent to. Look at its probe offset, at controller_origin_mm in the profile, and whether it is sent the probe's place or the nozzle's."));
        }

        if (Spread(checks, check => check.After.Z - check.NozzleMm) > FollowsMm && Spread(checks, check => check.After.Z) > FollowsMm)
        {
            found.Add(New(
                "height-does-not-follow",
                "Reported heights do not follow the nozzle's.",
                FormattableString.Invariant($"From touch to touch the nozzle stood {Spread(checks, check => check.After.Z - check.NozzleMm):0.000} mm more or less above what was reported."),
                "What is reported is not the height of the touch. Look in the wire's log beside the run's store what the controller says, and correct the dialect's touch pattern."));
        }

        return found.ToImmutable();
    }

    /// <summary>Whether the height means what the dialect says; null when it does.</summary>
    /// <param name="check">A touch at the homing place.</param>
    /// <param name="expectedMm">What the nozzle's height at the trigger must be there.</param>
    /// <param name="offsetZ">The stored Z offset in force.</param>
    public static Finding? OfHeight(TouchCheck check, double expectedMm, double offsetZ)
    {
        double apart = check.NozzleMm - expectedMm;
        if (check.Reported is null || Math.Abs(apart) <= SameHeightMm)
        {
            return null;
        }

        bool isOther = Math.Abs(Math.Abs(apart) - Math.Abs(offsetZ)) <= SameHeightMm;
        return New(
            isOther ? "height-means-other" : "height-unexpected",
            isOther ? "The height in a touch report means something else than the dialect says." : "The height in a touch report is not what the homing just defined.",
            FormattableString.Invariant($"At the homing place the nozzle's height at the trigger should be {expectedMm:0.000} mm; the report, read by the dialect, says {check.NozzleMm:0.000} mm, with a stored Z offset of {offsetZ:0.000} mm."),
            isOther
                ? "Change touch_report in a copy of the dialect file to the other of its two meanings: every height would be wrong by the stored offset."
                : "Home again and repeat this check. If it stays, the controller adds something to its reports: find out what before anything is measured.",
            apart);
    }

    private static bool Most(ImmutableArray<TouchCheck> checks, Func<TouchCheck, bool> shows) => checks.Count(shows) * 2 > checks.Length;

    /// <summary>The second largest distance from the middle one, so that a single damaged report is not heeded.</summary>
    private static double Spread(ImmutableArray<TouchCheck> checks, Func<TouchCheck, double> of)
    {
        double[] sorted = [.. checks.Where(check => check.Reported is not null).Select(of).Order()];
        double middle = sorted[sorted.Length / 2];
        double[] off = [.. sorted.Select(one => Math.Abs(one - middle)).OrderDescending()];
        return off.Length > 2 ? off[1] : 0;
    }

    private static BedPoint Nozzle(BedPoint tip, ProbeOffset offset) => new(tip.X - offset.X, tip.Y - offset.Y);

    private static double Apart(BedPoint one, BedPoint other) => Math.Max(Math.Abs(one.X - other.X), Math.Abs(one.Y - other.Y));

    private static Finding New(string id, string title, string evidence, string next, double? effectMm = null) =>
        new($"touch-report-check.{id}", title, effectMm, "controller", 1, evidence, next);
}
