using System.Collections.Immutable;
using ProbeRunner.Metrology.Distributions;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.CaptureComparison;

/// <summary>Whether a change matters, as far as its interval tells.</summary>
public enum Mattering
{
    /// <summary>Its whole interval lies within the tolerance, or nothing is shown.</summary>
    No,

    /// <summary>The interval reaches from within the tolerance to beyond it.</summary>
    Open,

    /// <summary>Its whole interval lies beyond the tolerance.</summary>
    Yes,
}

/// <summary>A change with its interval.</summary>
/// <param name="Name">In words: "tilt left to right", "back right corner".</param>
/// <param name="ChangeMm">Later less earlier.</param>
/// <param name="LowerMm">Lower limit.</param>
/// <param name="UpperMm">Upper limit.</param>
/// <param name="Matters">Against the tolerance.</param>
public readonly record struct JudgedChange(string Name, double ChangeMm, double LowerMm, double UpperMm, Mattering Matters);

/// <summary>Two captures of one bed compared, each change judged against what the first layer bears. Intervals of a kind hold together at 95 % (Bonferroni).</summary>
/// <param name="Difference">The comparison itself.</param>
/// <param name="Area">Where both captures are to be believed.</param>
/// <param name="Terms">Tilt, bow and twist.</param>
/// <param name="Corners">The four corners of the area, a common shift taken off.</param>
/// <param name="Local">The largest change that tilt, bow and twist don't explain.</param>
public sealed record JudgedDifference(CaptureDifference Difference, Box Area, ImmutableArray<JudgedChange> Terms, ImmutableArray<JudgedChange> Corners, JudgedChange Local)
{
    private const double Risk = 0.05;

    /// <summary>All changes together.</summary>
    public Mattering Matters => Terms.Append(Local).Max(change => change.Matters);

    /// <summary>The corner that moved most against the mean of the bed.</summary>
    public JudgedChange WorstCorner => Corners.MaxBy(corner => Math.Abs(corner.ChangeMm));

    /// <summary>Compares two captures over the area that both cover.</summary>
    /// <param name="earlier">Its readings; three or more that are not on one line.</param>
    /// <param name="later">Likewise.</param>
    /// <param name="earlierOptions">What was known of the bed and the probe then.</param>
    /// <param name="laterOptions">Likewise now.</param>
    /// <param name="toleranceMm">Change that doesn't matter to a first layer.</param>
    public static Answer<JudgedDifference> Between(
        IReadOnlyList<CaptureReading> earlier, IReadOnlyList<CaptureReading> later, SurfaceModelOptions earlierOptions, SurfaceModelOptions laterOptions, double toleranceMm)
    {
        ArgumentNullException.ThrowIfNull(earlier);
        ArgumentNullException.ThrowIfNull(later);
        if (!(toleranceMm > 0) || !double.IsFinite(toleranceMm))
        {
            return Reason.OutOfRange("A comparison of captures needs a tolerance above 0.");
        }

        return SurfaceModel.Fit(earlier, earlierOptions).Then<JudgedDifference>(before => SurfaceModel.Fit(later, laterOptions).Then<JudgedDifference>(after =>
        {
            Box one = Around(earlier), other = Around(later);
            var area = new Box(Math.Max(one.MinX, other.MinX), Math.Max(one.MinY, other.MinY), Math.Min(one.MaxX, other.MaxX), Math.Min(one.MaxY, other.MaxY));
            return CaptureDifference.Between(before, after, area).Then<JudgedDifference>(difference => Judge(difference, area, toleranceMm));
        }));
    }

    private static JudgedDifference Judge(CaptureDifference difference, Box area, double toleranceMm)
    {
        (string Name, ShapeChange Change)[] terms =
        [
            ("tilt left to right", difference.TiltX), ("tilt front to back", difference.TiltY), ("bow left to right", difference.BowX),
            ("bow front to back", difference.BowY), ("twist", difference.Twist),
        ];
        SurfaceMap map = difference.Difference.Heights;
        int columns = map.Xs.Length, last = map.Heights.Length - 1;
        (string Name, int At)[] corners =
        [
            ("front left corner", 0), ("front right corner", columns - 1), ("back left corner", last - columns + 1), ("back right corner", last),
        ];
        LocalChange local = difference.Largest;
        JudgedChange largest = Judged(FormattableString.Invariant($"around x {local.X:0}, y {local.Y:0}"), local.ChangeMm, local.StandardDeviation, difference.Places, toleranceMm);
        return new JudgedDifference(
            difference,
            area,
            [.. terms.Select(term => Judged(term.Name, term.Change.ChangeMm, term.Change.StandardError, terms.Length, toleranceMm))],
            [.. corners.Select(corner => Judged(corner.Name, map.Heights[corner.At], difference.Difference.StandardDeviations[corner.At], corners.Length, toleranceMm))],
            local.PValue > Risk ? largest with { Matters = Mattering.No } : largest);
    }

    private static JudgedChange Judged(string name, double change, double standardError, int together, double toleranceMm)
    {
        double half = standardError * StandardNormal.Quantile(1 - (Risk / (2 * together)));
        (double lower, double upper) = (change - half, change + half);
        Mattering matters = lower >= -toleranceMm && upper <= toleranceMm ? Mattering.No
            : lower > toleranceMm || upper < -toleranceMm ? Mattering.Yes
            : Mattering.Open;
        return new JudgedChange(name, change, lower, upper, matters);
    }

    private static Box Around(IReadOnlyList<CaptureReading> readings) => Box.Around([.. readings.Select(reading => new SurfacePoint(reading.X, reading.Y, reading.Z))]);
}
