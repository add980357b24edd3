using System.Collections.Immutable;
using System.Globalization;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.Screws;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Screws;

/// <summary>
/// Levels the bed with its screws: measures near each, has a trial eighth-turn prove which way round they work, then says what to turn,
/// and measures again until the bed is level or gets no better.
/// </summary>
internal sealed class ScrewsStep(ScrewParameters parameters) : Step
{
    private const double StillImproving = 0.9;
    private const double LeastTrialPart = 0.4;

    public override string Name => "screws";

    public override string Title => "Bed screws";

    public override string Purpose => "A tilted bed is put right with its screws, not hidden under a correction mesh: the mesh then has less to do and does it better.";

    public override string WhatGoodLooksLike => "After one or two rounds the bed stands within a few hundredths of a millimetre of level at every screw.";

    public override Milestones Needs => Milestones.HomedZ;

    public override Milestones Wants => Milestones.GantryLevel;

    public override bool NeedsPerson => true;

    public override StepPlan Plan(MachineProfile profile) => new(
        Homings: parameters.MostRounds + 1, Touches: (profile.Screws.Length + 1) * parameters.Touches * (parameters.MostRounds + 1), Questions: 3 * (parameters.MostRounds + 1));

    public override string? WhyImpossible(MachineProfile profile) => profile.Screws.Length is not (3 or 4)
        ? "the machine's profile must name three or four adjusting screws."
        : ScrewPlaces.Near(profile, ReachableArea.ForProbe(profile)) is null ? "the probe reaches no place near some screw; check the probe's offset and the clips in the profile." : null;

    public static Step Read(TomlSection section) => new ScrewsStep(ScrewParameters.Read(section));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        ProbeOffset offset = await context.DoAsync(new ReadProbeOffset());
        TimeSpan? idleRelease = IdleRelease(await context.DoAsync(new ReadSettings()));
        if (ScrewPlaces.Near(context.Profile, ReachableArea.ForProbe(context.Profile, offset)) is not { } places)
        {
            return new PlainConclusion(Verdicts.Undecided("With the probe offset that the controller has, the probe reaches no place near some screw. Nothing was turned."), []);
        }

        var work = new ScrewWork(context, parameters, places, idleRelease, [.. context.Profile.Screws.Select(Adjusting)]);
        await context.HandsClearAsync(PromptIds.ScrewsHandsClear, "The probe touches the bed near each screw and in the middle. Paper out, hands clear?");
        BedLevel first = await work.MeasureAsync("found");
        if (first.WorstMm <= parameters.ToleranceMm)
        {
            return Conclude(context.Profile, work, first, first, []);
        }

        (bool goOn, BedLevel now, ImmutableArray<Finding> findings) = await TrialAsync(context, work, first);

        // A trial at one of four screws twists the plate, and a plane through the twisted plate would leave the twist in: so the first
        // plan rests on the bed as found and takes off what the trial turned already.
        double[] plan = goOn ? work.Plan(first, work.Turns) : [];
        for (int round = 1; goOn && round <= parameters.MostRounds && await work.TurnAllAsync(plan); round++)
        {
            double before = now.WorstMm;
            now = await work.MeasureAsync(FormattableString.Invariant($"round {round}"));
            plan = work.Plan(now, new double[work.Screws.Length]);
            goOn = !now.IsLevel(parameters.ToleranceMm) && now.WorstMm < StillImproving * before && plan.Any(turn => Math.Abs(turn) > TurnWords.Finest / 2);
        }

        return Conclude(context.Profile, work, first, now, findings);
    }

    /// <summary>An eighth of a turn the way the plan goes, where the plan has most to do: it is never turned in vain.</summary>
    private static async Task<(bool GoOn, BedLevel Now, ImmutableArray<Finding> Findings)> TrialAsync(StepContext context, ScrewWork work, BedLevel found)
    {
        int index = Enumerable.Range(0, work.Screws.Length).MaxBy(screw => Math.Abs(found.AtScrews[screw]));
        double eighth = Math.CopySign(ScrewLevelling.EighthTurn, work.Screws[index].TurnsFor(-found.AtScrews[index]));
        double expected = work.Screws[index].RiseMm(eighth);
        if (!await work.TurnAsync(index, eighth, "A trial first, to see which way these screws work. "))
        {
            return (false, found, []);
        }

        BedLevel now = await work.MeasureAsync("trial");
        double measured = ScrewWork.RiseAgainstOthers(index, found, now);
        if (Math.Abs(measured) < LeastTrialPart * Math.Abs(expected))
        {
            return (false, now, [ScrewFindings.DidNotMove(work.Screws[index].Name, expected, measured)]);
        }

        if (Math.Sign(measured) == Math.Sign(expected))
        {
            return (true, now, []);
        }

        context.Warn("The screws turn the other way round than the profile says; the directions that follow take that into account.");
        work.TurnRound();
        return (true, now, [ScrewFindings.OtherWayRound(expected, measured)]);
    }

    private ScrewsConclusion Conclude(MachineProfile profile, ScrewWork work, BedLevel first, BedLevel last, ImmutableArray<Finding> findings)
    {
        findings = [.. work.Findings, .. findings, .. ScrewFindings.On(profile, first, last, parameters.ToleranceMm)];
        string stands = FormattableString.Invariant($"At the screws the bed stands within {last.WorstMm:0.000} mm of level; it was {first.WorstMm:0.000} mm");
        StepVerdict verdict = last.IsLevel(parameters.ToleranceMm) ? Verdicts.Fit(stands + ".", 0.95)
            : last.WorstMm <= parameters.ToleranceMm ? Verdicts.Undecided(FormattableString.Invariant(
                $"{stands}. The touches leave {last.UncertaintyMm:0.000} mm of doubt (standard uncertainty), so that the {parameters.ToleranceMm:0.000} mm asked for are not sure. Do the step again with more touches (touches = 5)."))
            : Verdicts.NotFit(FormattableString.Invariant($"{stands}, and {parameters.ToleranceMm:0.000} mm was asked for. Do the step again, or look at the findings."), 0.9);
        return new ScrewsConclusion(verdict, findings, [.. work.Rounds], parameters.ToleranceMm, last.BendMm, last.TwistMm);
    }

    private static AdjustingScrew Adjusting(ScrewProfile screw) => new(screw.Name, screw.Place.X, screw.Place.Y, screw.PitchMm, screw.ClockwiseRaises);

    private static TimeSpan? IdleRelease(SettingsReport settings) =>
        settings.Values.TryGetValue("idle release", out string? text) && double.TryParse(text.Split(' ')[0], CultureInfo.InvariantCulture, out double seconds) && seconds > 0
            ? TimeSpan.FromSeconds(seconds)
            : null;
}
