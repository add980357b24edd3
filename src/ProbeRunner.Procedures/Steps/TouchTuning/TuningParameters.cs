using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Steps.TouchTuning;

/// <summary>Parameters of the touch tuning.</summary>
/// <param name="Place">Where; the homing place when null.</param>
/// <param name="SlowFeedMmPerMin">Of the reference; the profile's slow feed when 0.</param>
/// <param name="Feeds">How many faster feeds are tried, evenly up to the profile's touch feed.</param>
/// <param name="MostExtraLiftMm">The reference's lift above the clearance height; half of it and none are tried.</param>
/// <param name="Rounds">Touches of each manner; the reference is touched twice as often.</param>
/// <param name="MarginMm">Largest difference of means that doesn't matter; the profile's good sigma when 0.</param>
/// <param name="LargestRatio">Largest ratio of scatters that doesn't matter.</param>
/// <param name="NightTouches">Touches of a night, for what is saved.</param>
internal sealed record TuningParameters(
    BedPoint? Place, double SlowFeedMmPerMin, int Feeds, double MostExtraLiftMm, int Rounds, double MarginMm, double LargestRatio, int NightTouches)
{
    /// <summary>Touches at most: rounds of the feeds and of two lifts, each with two touches of the reference, and one to begin with for each.</summary>
    public int MostTouches => (Rounds * (Feeds + 2)) + (Rounds * 4) + 2;

    /// <summary>
    /// Keys: <c>place_mm</c>; <c>slow_feed_mm_per_min</c>, 30 to 600, the profile's slow feed; <c>feeds</c>, 1 to 6, 4; <c>most_extra_lift_mm</c>, 1 to 20, 4;
    /// <c>rounds</c>, 6 to 60, 30; <c>margin_mm</c>, up to 0.05, the profile's good sigma; <c>largest_ratio</c>, 1.2 to 3, 1.75; <c>night_touches</c>, 1 to 100000, 500.
    /// </summary>
    public static TuningParameters Read(TomlSection section) => new(
        PlaceParameter.Read(section),
        section.Number("slow_feed_mm_per_min", 0, 600, 0),
        section.Whole("feeds", 1, 6, 4),
        section.Number("most_extra_lift_mm", 1, 20, 4),
        section.Whole("rounds", 6, 60, 30),
        section.Number("margin_mm", 0, 0.05, 0),
        section.Number("largest_ratio", 1.2, 3, 1.75),
        section.Whole("night_touches", 1, 100_000, 500));
}

/// <summary>A way of touching.</summary>
/// <param name="FeedMmPerMin">Limit on the feed of Z; null to leave it as found.</param>
/// <param name="ExtraLiftMm">Lift above the clearance height before each touch.</param>
internal readonly record struct TouchManner(double? FeedMmPerMin, double ExtraLiftMm);
