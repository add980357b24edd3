using ProbeRunner.Machine.Geometry;
using ProbeRunner.Metrology.Settling;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.WarmUp;

/// <summary>What a watched warm-up says, and how long to wait next time.</summary>
internal static class WarmUpJudgement
{
    /// <summary>Concludes.</summary>
    /// <param name="parameters">What was asked for.</param>
    /// <param name="at">Where.</param>
    /// <param name="tally">The touches.</param>
    /// <param name="soak">The wait that the profile holds.</param>
    public static StepConclusion Conclude(WarmUpParameters parameters, BedPoint at, WarmUpTally tally, TimeSpan soak)
    {
        if (tally.Belief is not { } belief || tally.HotAtSeconds is not { } hotAt)
        {
            return new PlainConclusion(Verdicts.Undecided("Too few touches were taken while the machine was hot; whether it had settled can't be said."), []);
        }

        WarmUpPoint[] counted = [.. tally.Counted];
        SettlingFit? fit = SettlingFit.Of([.. counted.Select(point => point.Seconds)], [.. counted.Select(point => point.HeightMm)]).OrElse(null);
        double moved = belief.End - tally.Points[0].HeightMm;
        double still = belief.StillMoves(tally.Points[^1].Seconds, parameters.ToleranceMm);
        int? wait = tally.IsSettled ? Math.Max(1, (int)Math.Ceiling((belief.SettledBy(parameters.ToleranceMm, 1 - WarmUpTally.Risk) - hotAt) / 60)) : null;
        double watched = (tally.Points[^1].Seconds - hotAt) / 60;
        return new WarmUpConclusion(
            Verdict(parameters, watched, moved, belief, still, wait),
            [.. Findings(parameters, watched, moved, still, wait, soak)],
            at,
            [.. tally.Points],
            hotAt,
            moved,
            belief.End,
            belief.EndStandardDeviation,
            fit is null ? null : new SettlingCurve(
                fit.End.Value, fit.Amplitude.Value, fit.FirstTime, fit.TimeConstant.Value, Math.Max(0, fit.TimeConstant.Lower), fit.TimeConstant.Upper),
            parameters.ToleranceMm,
            still,
            tally.IsSettled,
            wait,
            Conditions.Of(tally.Heat));
    }

    private static StepVerdict Verdict(WarmUpParameters parameters, double watched, double moved, SettlingBelief belief, double still, int? wait)
    {
        if (wait is { } minutes)
        {
            return Verdicts.Fit(FormattableString.Invariant(
                $"Settled: what still moves is below {parameters.ToleranceMm:0.000} mm. From the first touch on the height moved by {moved:+0.000;-0.000} mm (+-{2 * belief.EndStandardDeviation:0.000}). Next time wait {minutes} minutes from hot on."), 1 - still);
        }

        string watch = FormattableString.Invariant($"watched for {watched:0} minutes once it was hot; the probability that more than {parameters.ToleranceMm:0.000} mm of movement remains is {still:0.00}.");
        return still >= 1 - WarmUpTally.Risk ? Verdicts.NotFit($"Not settled: {watch}", still) : Verdicts.Undecided($"Not shown to be settled: {watch}", Math.Max(still, 1 - still));
    }

    private static IEnumerable<Finding> Findings(WarmUpParameters parameters, double watched, double moved, double still, int? wait, TimeSpan soak)
    {
        if (wait is null)
        {
            yield return new Finding(
                "warm-up.not-settled", "The height was not seen to stand still.", parameters.ToleranceMm, "bed", Math.Max(still, 0.5),
                FormattableString.Invariant($"After {watched:0} minutes hot, more than {parameters.ToleranceMm:0.000} mm remains with a probability of {still:0.00}."),
                "Watch again for longer (most_minutes). If it never stands still, look for a draught, a loose plate or probe bracket, or a frame that warms with the room.");
        }
        else if (wait > soak.TotalMinutes)
        {
            yield return new Finding(
                "warm-up.soak-too-short", "The machine's profile waits too short a time.", Math.Abs(moved), "bed", 0.95,
                FormattableString.Invariant($"The profile's soak is {soak.TotalMinutes:0} minutes; with 95 % confidence {wait} minutes are enough."),
                FormattableString.Invariant($"Set soak_minutes = {wait} in the machine's profile."));
        }
        else if (wait < soak.TotalMinutes / 2)
        {
            yield return new Finding(
                "warm-up.soak-longer-than-needed", "The machine settles sooner than its profile waits.", null, "bed", 0.95,
                FormattableString.Invariant($"The profile's soak is {soak.TotalMinutes:0} minutes; with 95 % confidence {wait} minutes are enough."),
                FormattableString.Invariant($"Set soak_minutes = {wait} in the machine's profile to save time."));
        }
    }
}
