using ProbeRunner.Machine.Geometry;
using ProbeRunner.Metrology.Comparison;
using ProbeRunner.Metrology.Series;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.TouchTuning;

/// <summary>What the rounds say, and what to do with it.</summary>
/// <param name="parameters">What was asked for.</param>
/// <param name="limits">What counts as equivalent.</param>
/// <param name="feedIsFixed">The controller's touches can't be given another feed.</param>
internal sealed class TuningJudgement(TuningParameters parameters, EquivalenceLimits limits, bool feedIsFixed)
{
    /// <summary>Slow and fast touches that take the same time: the limit does not reach the touch.</summary>
    private const double LeastGain = 1.1;

    private readonly List<TriedManner> _tried = [];
    private readonly List<double> _referenceSeconds = [];
    private bool _feedHasNoEffect;

    /// <summary>The best so far; null when nothing but the reference is.</summary>
    public TouchManner? Best { get; private set; }

    private double ReferenceSeconds => Moments.Median(_referenceSeconds);

    /// <summary>Takes in the rounds of feeds.</summary>
    public void Feeds(RoundsTaken taken)
    {
        Add(taken);
        _feedHasNoEffect = ReferenceSeconds < LeastGain * taken.Candidates[^1].SecondsPerTouch;
        Best = taken.Best(limits)?.Manner;
    }

    /// <summary>Takes in the rounds of lifts.</summary>
    public void Lifts(RoundsTaken taken)
    {
        Add(taken);
        Best = taken.Best(limits)?.Manner ?? Best;
    }

    /// <summary>Concludes.</summary>
    public TouchTuningConclusion Conclude(BedPoint at, TouchManner best, string conditions)
    {
        TriedManner chosen = _tried.Last(tried => tried.FeedMmPerMin == (best.FeedMmPerMin ?? 0) && tried.ExtraLiftMm == best.ExtraLiftMm);
        TimeSpan saved = chosen.IsEquivalent == true
            ? TimeSpan.FromSeconds(Math.Max(0, (ReferenceSeconds - chosen.SecondsPerTouch) * parameters.NightTouches))
            : TimeSpan.Zero;
        return new TouchTuningConclusion(
            Verdict(chosen, saved), [.. Findings(chosen, saved)], at, [.. _tried], chosen.FeedMmPerMin, chosen.ExtraLiftMm,
            parameters.NightTouches, saved, limits.MarginMm, limits.LargestRatio, conditions);
    }

    private void Add(RoundsTaken taken)
    {
        _referenceSeconds.AddRange([.. taken.Before.Seconds, .. taken.After.Seconds]);
        InterleavedEquivalence of = taken.Candidates[0].Against(taken.Before, taken.After, limits);
        if (_tried.Count == 0)
        {
            TouchManner slow = taken.Before.Manner;
            _tried.Add(new TriedManner(
                slow.FeedMmPerMin ?? 0, slow.ExtraLiftMm, 2 * taken.Before.Heights.Count, of.ReferenceSigma, 0, 0, 0, 1, ReferenceSeconds, null));
        }

        foreach (CandidateTally candidate in taken.Candidates)
        {
            InterleavedEquivalence found = candidate.Against(taken.Before, taken.After, limits);
            _tried.Add(new TriedManner(
                candidate.Manner.FeedMmPerMin ?? 0, candidate.Manner.ExtraLiftMm, candidate.Heights.Count, found.CandidateSigma,
                found.MeanDifference, found.DifferenceLower, found.DifferenceUpper, found.RatioUpper, candidate.SecondsPerTouch, found.IsEquivalent));
        }
    }

    private StepVerdict Verdict(TriedManner chosen, TimeSpan saved) => chosen.IsEquivalent == true
        ? Verdicts.Fit(
            FormattableString.Invariant($"Touches {Words(chosen)} are as good as slow ones: mean within {limits.MarginMm:0.0000} mm and scatter below {limits.LargestRatio:0.0#} times theirs, ")
            + FormattableString.Invariant($"{chosen.SecondsPerTouch:0.0} s each instead of {ReferenceSeconds:0.0} s; {Minutes(saved)} less on {parameters.NightTouches} touches."), 0.95)
        : Verdicts.Undecided("Nothing faster was shown to be as good as the slow reference; more rounds might show it. Stay with slow touches where it matters.");

    private IEnumerable<Finding> Findings(TriedManner chosen, TimeSpan saved)
    {
        if (chosen.IsEquivalent == true)
        {
            yield return new Finding(
                "touch-tuning.as-good", "Faster touches are as good as slow ones.", Math.Max(Math.Abs(chosen.DifferenceLowerMm), Math.Abs(chosen.DifferenceUpperMm)), "probe", 0.95,
                FormattableString.Invariant($"{chosen.Touches} touches {Words(chosen)} beside {_tried[0].Touches} slow ones: mean {chosen.DifferenceMm:+0.0000;-0.0000} mm apart, scatter {chosen.SigmaMm:0.0000} against {_tried[0].SigmaMm:0.0000} mm."),
                FormattableString.Invariant($"Capture with {Keys(chosen)}: {Minutes(saved)} less on {parameters.NightTouches} touches than with the slow ones. The controller's limit itself was put back as it was found."));
        }

        if (feedIsFixed || _feedHasNoEffect)
        {
            yield return new Finding(
                "touch-tuning.feed-is-fixed", "The feed of this controller's touches can't be changed from here.", null, "controller", 0.95,
                feedIsFixed ? "It does not say how fast it lets Z go." : "Touches took as long under a low limit of Z's feed as under a high one.",
                "Only the lift was judged. Where the controller's own settings have a touch feed, change it there and run this again.");
        }
        else if (_tried.Where(tried => tried.ExtraLiftMm == _tried[0].ExtraLiftMm).MaxBy(tried => tried.FeedMmPerMin) is { IsEquivalent: false } own)
        {
            yield return new Finding(
                "touch-tuning.own-feed-not-as-good", "Touches at the machine's own feed were not shown to be as good as slow ones.", own.SigmaMm, "probe", 0.95,
                FormattableString.Invariant($"At {own.FeedMmPerMin:0} mm/min they scatter by {own.SigmaMm:0.0000} mm, slow ones by {_tried[0].SigmaMm:0.0000} mm; the means are {own.DifferenceMm:+0.0000;-0.0000} mm apart."),
                "Touch more slowly where it matters, or make the probe stiffer: tighten its bracket and its plug.");
        }
    }

    private static string Words(TriedManner manner) =>
        (manner.FeedMmPerMin > 0 ? FormattableString.Invariant($"at {manner.FeedMmPerMin:0} mm/min ") : string.Empty)
        + (manner.ExtraLiftMm > 0 ? FormattableString.Invariant($"from {manner.ExtraLiftMm:0.0} mm above the clearance height") : "from the clearance height");

    private static string Keys(TriedManner manner) =>
        (manner.FeedMmPerMin > 0 ? FormattableString.Invariant($"touch_feed_mm_per_min = {manner.FeedMmPerMin:0} and ") : string.Empty)
        + FormattableString.Invariant($"extra_lift_mm = {manner.ExtraLiftMm:0.0}");

    private static string Minutes(TimeSpan time) => FormattableString.Invariant($"{time.TotalMinutes:0} minutes");
}
