using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.Comparison;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.TouchTuning;

/// <summary>
/// Finds the fastest touch feed, then with it the shortest lift, whose mean and scatter are as good as those of slow touches from high up.
/// No controller takes a feed with its touch: what is changed is how fast it lets Z go at most, which holds for touches too. It is put back.
/// </summary>
internal sealed class TouchTuningStep(TuningParameters parameters) : Step
{
    public override string Name => "touch-tuning";

    public override string Title => "Touch tuning";

    public override string Purpose => "A night's grid has hundreds of touches. How fast they may be without becoming worse is measured, not guessed.";

    public override string WhatGoodLooksLike => "Slow and fast touches agree; the fastest that still do are named, with the time they save.";

    public override Milestones Needs => Milestones.HomedZ;

    public override StepPlan Plan(MachineProfile profile) => new(Touches: parameters.MostTouches, Motions: parameters.MostTouches, Questions: 1, Exchanges: parameters.MostTouches);

    public override string? WhyImpossible(MachineProfile profile) => SlowFeed(profile) >= profile.Probe.TouchFeedMmPerMin
        ? FormattableString.Invariant($"the slow reference of {SlowFeed(profile):0} mm/min is no slower than this probe's touch feed of {profile.Probe.TouchFeedMmPerMin:0}.")
        : PlaceParameter.WhyOutOfReach(parameters.Place, profile);

    /// <summary>Keys: those of <see cref="TuningParameters.Read"/>.</summary>
    public static Step Read(TomlSection section) => new TouchTuningStep(TuningParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        BedPoint at = parameters.Place ?? context.Profile.Travel.HomingPlace;
        Temperatures heat = await context.DoAsync(new ReadTemperatures());
        double? found = (await context.DoAsync(new ReadHighestZFeed())).FeedMmPerMin;
        var limits = new EquivalenceLimits(
            parameters.MarginMm > 0 ? parameters.MarginMm : context.Profile.Probe.GoodSigmaMm, parameters.LargestRatio, context.Profile.Probe.GoodSigmaMm / 4);
        await context.HandsClearAsync(
            PromptIds.TouchTuningHandsClear,
            FormattableString.Invariant($"The probe touches one place up to {parameters.MostTouches} times, slower and faster, from higher and lower. This takes a while and needs nobody. Paper out, hands clear?"));
        var rounds = new TuningRounds(context, at, parameters.Rounds, limits);
        var reference = new TouchManner(found is null ? null : SlowFeed(context.Profile), parameters.MostExtraLiftMm);
        var judged = new TuningJudgement(parameters, limits, found is null);
        TouchManner best = reference;
        if (found is { } highest)
        {
            judged.Feeds(await rounds.TakeAsync("feeds", reference, Feeds(context.Profile, highest)));
            best = judged.Best ?? reference;
        }

        judged.Lifts(await rounds.TakeAsync("lifts", reference, [best with { ExtraLiftMm = parameters.MostExtraLiftMm / 2 }, best with { ExtraLiftMm = 0 }]));
        if (found is { } back)
        {
            await context.InSectionAsync("put back", Retake.WhenInterrupted, null, () => context.DoAsync(new LimitZFeed(back)));
        }

        return judged.Conclude(at, judged.Best ?? best, Conditions.Of(heat));
    }

    private double SlowFeed(MachineProfile profile) => parameters.SlowFeedMmPerMin > 0 ? parameters.SlowFeedMmPerMin : profile.Travel.SlowFeedMmPerMin;

    /// <summary>Evenly from the slow feed, which is left out, up to the touch feed; none above what the controller allows as found.</summary>
    private ImmutableArray<TouchManner> Feeds(MachineProfile profile, double highest)
    {
        double slow = SlowFeed(profile), fast = Math.Min(highest, profile.Probe.TouchFeedMmPerMin);
        return
        [
            .. Enumerable.Range(1, parameters.Feeds)
                .Select(step => new TouchManner(Math.Round(slow + ((fast - slow) * step / parameters.Feeds)), parameters.MostExtraLiftMm)),
        ];
    }
}
