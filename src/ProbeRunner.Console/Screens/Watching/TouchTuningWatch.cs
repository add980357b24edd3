using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Console.Screens.Watching;

/// <summary>The picture of a tuned touch.</summary>
internal static class TouchTuningWatch
{
    /// <summary>Once it is concluded.</summary>
    public static TouchTuningState Concluded(TouchTuningConclusion tuning) => new(
        [
            .. tuning.Manners.Where(manner => manner.IsEquivalent is not null).Select(manner => new TouchCandidate(
                $"{Numbers.Plain(manner.FeedMmPerMin, 0)} mm/min, lift {Numbers.Plain(manner.ExtraLiftMm, 1)}",
                manner.DifferenceMm,
                manner.DifferenceLowerMm,
                manner.DifferenceUpperMm,
                manner.SigmaMm,
                manner.SecondsPerTouch,
                manner.IsEquivalent == true ? VerdictWord.Fit : VerdictWord.NotFit)),
        ],
        tuning.MarginMm);
}
