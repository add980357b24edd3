using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>Ways of touching, compared with the slow reference.</summary>
/// <param name="Place">Where all touches were taken.</param>
/// <param name="Manners">The reference first, then those tried, in the order they were judged.</param>
/// <param name="FeedMmPerMin">Of the fastest as good as the reference.</param>
/// <param name="ExtraLiftMm">Its lift above the clearance height.</param>
/// <param name="NightTouches">Touches of the night that the saving is reckoned for.</param>
/// <param name="Saved">What it saves against the slow reference on so many touches, by the machine's own times; zero when nothing faster is as good.</param>
/// <param name="MarginMm">Largest difference of means that was allowed.</param>
/// <param name="LargestRatio">Largest ratio of scatters that was allowed.</param>
/// <param name="Conditions">Temperatures, in words.</param>
public sealed record TouchTuningConclusion(
    StepVerdict Verdict,
    ImmutableArray<Finding> Findings,
    BedPoint Place,
    ImmutableArray<TriedManner> Manners,
    double FeedMmPerMin,
    double ExtraLiftMm,
    int NightTouches,
    TimeSpan Saved,
    double MarginMm,
    double LargestRatio,
    string Conditions) : StepConclusion(Verdict, Findings);

/// <summary>One way of touching and how it compares.</summary>
/// <param name="FeedMmPerMin">Limit on the feed of Z.</param>
/// <param name="ExtraLiftMm">Lift above the clearance height.</param>
/// <param name="Touches">How many were taken.</param>
/// <param name="SigmaMm">Scatter about a straight line.</param>
/// <param name="DifferenceMm">Mean less the reference's of the same rounds; 0 for the reference.</param>
/// <param name="DifferenceLowerMm">Lower 90 % limit, by which it is judged.</param>
/// <param name="DifferenceUpperMm">Upper 90 % limit.</param>
/// <param name="RatioUpper">Upper 95 % limit of its scatter over the reference's; 1 for the reference.</param>
/// <param name="SecondsPerTouch">Median time from one reading to the next.</param>
/// <param name="IsEquivalent">Whether it is as good; null for the reference.</param>
public sealed record TriedManner(
    double FeedMmPerMin,
    double ExtraLiftMm,
    int Touches,
    double SigmaMm,
    double DifferenceMm,
    double DifferenceLowerMm,
    double DifferenceUpperMm,
    double RatioUpper,
    double SecondsPerTouch,
    bool? IsEquivalent);
