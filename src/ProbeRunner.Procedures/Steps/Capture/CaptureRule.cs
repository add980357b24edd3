using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>How a capture touches: what each place gets, and how drift and datum are watched.</summary>
/// <param name="Touches">Touches per place, 1 to 5. Two let a wrong one be seen, three let it be left out; touches at more places tell more of the bed.</param>
/// <param name="DisagreementMm">Touches of a place further apart than this don't agree, mm; up to two more settle it.</param>
/// <param name="Combine">How those that agree become one height.</param>
/// <param name="ReferenceEvery">After how many places the reference point is touched again; 0 for never by number.</param>
/// <param name="ReferenceMinutes">After how many minutes it is touched again; 0 for never by time.</param>
/// <param name="HomeAgainEvery">After how many places Z is homed again, which begins a new datum epoch; 0 for never.</param>
/// <param name="TouchFeedMmPerMin">Touches go no faster, mm/min; 0 for as fast as the controller does.</param>
/// <param name="ExtraLiftMm">Lift above the clearance height before each touch, mm.</param>
/// <param name="JumpMm">A reading further than this off the plane of its neighbours is touched again, mm; 0 for never. Three places in a row that stay off stop the run.</param>
/// <param name="Heat">How hot the capture is taken.</param>
internal sealed record CaptureRule(
    int Touches,
    double DisagreementMm,
    RepeatRule Combine,
    int ReferenceEvery,
    double ReferenceMinutes,
    int HomeAgainEvery,
    double TouchFeedMmPerMin,
    double ExtraLiftMm,
    double JumpMm,
    CaptureHeat Heat)
{
    /// <summary>Further touches that settle a place whose touches disagree.</summary>
    public const int MostExtra = 2;

    private static readonly Dictionary<string, RepeatRule> Rules = new(StringComparer.Ordinal)
    {
        ["trimmed-mean"] = RepeatRule.TrimmedMean,
        ["median"] = RepeatRule.Median,
    };

    /// <summary>Whether the reference point is visited at all.</summary>
    public bool Revisits => ReferenceEvery > 0 || ReferenceMinutes > 0;

    /// <summary>
    /// Keys: <c>touches</c>, 1 to 5; <c>disagreement_mm</c>, 0.005 to 0.5, 0.03; <c>combine</c>, "trimmed-mean" or "median";
    /// <c>reference_every</c>, 0 to 1000; <c>reference_minutes</c>, 0 to 600; <c>home_again_every</c>, 0 to 10000, 0;
    /// <c>touch_feed_mm_per_min</c>, 0 to 600, 0; <c>extra_lift_mm</c>, 0 to 20, 0;
    /// <c>jump_mm</c>, 0 to 5, 0.3; and those of <see cref="CaptureHeat.Read"/>.
    /// </summary>
    public static CaptureRule Read(TomlSection section, int touches, int referenceEvery, double referenceMinutes = 0) => new(
        section.Whole("touches", 1, 5, touches),
        section.Number("disagreement_mm", 0.005, 0.5, 0.03),
        section.OneOf("combine", Rules, "trimmed-mean"),
        section.Whole("reference_every", 0, 1000, referenceEvery),
        section.Number("reference_minutes", 0, 600, referenceMinutes),
        section.Whole("home_again_every", 0, 10_000, 0),
        section.Number("touch_feed_mm_per_min", 0, 600, 0),
        section.Number("extra_lift_mm", 0, 20, 0),
        section.Number("jump_mm", 0, 5, 0.3),
        CaptureHeat.Read(section));

    /// <summary>About how many touches the revisits of the reference point take beside those of so many places.</summary>
    public int RevisitTouches(int places) => ReferenceEvery > 0 ? (((places - 1) / ReferenceEvery) + 2) * Touches : 0;

    /// <summary>How many homings a capture of so many places takes.</summary>
    public int Homings(int places) => HomeAgainEvery > 0 ? (places - 1) / HomeAgainEvery : 0;
}
