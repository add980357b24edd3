using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>Parameters of the grid capture.</summary>
/// <param name="Columns">Places along X, 3 to 60.</param>
/// <param name="Rows">Places along Y, 3 to 60.</param>
/// <param name="Touches">Touches per place, 1 to 5; two or more let a wrong one be seen.</param>
/// <param name="ReferenceEvery">After how many places the reference point is touched again, 0 for never, up to 1000.</param>
/// <param name="DisagreementMm">Touches of a place further apart than this are taken again, mm, 0.005 to 0.5.</param>
/// <param name="TouchFeedMmPerMin">Touches go no faster, mm/min, 10 to 600; 0 for as fast as the controller does.</param>
/// <param name="ExtraLiftMm">Lift above the clearance height before each touch, mm, 0 to 20.</param>
internal sealed record GridParameters(int Columns, int Rows, int Touches, int ReferenceEvery, double DisagreementMm, double TouchFeedMmPerMin, double ExtraLiftMm)
{
    /// <summary>Keys: columns, rows, touches, reference_every, disagreement_mm, touch_feed_mm_per_min, extra_lift_mm.</summary>
    public static GridParameters Read(TomlSection section) => new(
        section.Whole("columns", 3, 60, 6),
        section.Whole("rows", 3, 60, 6),
        section.Whole("touches", 1, 5, 2),
        section.Whole("reference_every", 0, 1000, 12),
        section.Number("disagreement_mm", 0.005, 0.5, 0.03),
        section.Number("touch_feed_mm_per_min", 0, 600, 0),
        section.Number("extra_lift_mm", 0, 20, 0));
}
