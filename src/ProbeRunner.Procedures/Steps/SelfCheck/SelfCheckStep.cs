using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.SelfCheck;

/// <summary>Proves the probe in the air: it moves, its switch is seen both ways, and a push stops a descent high above the bed.</summary>
internal sealed class SelfCheckStep(int cycles, int pushes) : Step
{
    private const double CoolCelsius = 45;

    public override string Name => "self-check";

    public override string Title => "Probe self-check in the air";

    public override string Purpose => "A probe that is stuck, dead or wired the wrong way drives the nozzle into the bed at the first homing. In the air that costs nothing.";

    public override string WhatGoodLooksLike => "The probe goes out and in each time, reads open while nothing touches it and triggered while you push it, and your push stops the descent at once.";

    public override Milestones Needs => Milestones.HomedXY;

    public override Milestones Gives => Milestones.ProbeTested;

    public override bool NeedsPerson => true;

    public override bool IsGate => true;

    public override StepPlan Plan(MachineProfile profile) => new(Homings: 1, Motions: (2 * cycles) + (2 * pushes) + 1, Questions: 5 + (2 * pushes), Exchanges: (5 * cycles) + (7 * pushes));

    /// <summary>
    /// Keys: <c>cycles</c>, how often the probe is extended and retracted, 1 to 50, 5 unless said otherwise;
    /// <c>pushes</c>, how often it is triggered by hand while nothing moves, 1 to 10, 2 unless said otherwise.
    /// </summary>
    public static Step Read(TomlSection section) => new SelfCheckStep(section.Whole("cycles", 1, 50, 5), section.Whole("pushes", 1, 10, 2));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        ProbeKind kind = context.Profile.Probe.Kind;
        ProbeWords words = ProbeWords.For(kind);
        if (kind == ProbeKind.NozzleContact && await context.DoAsync(new ReadTemperatures()) is { NozzleCelsius: > CoolCelsius } heat)
        {
            return Verdicts.Failed(HotFinding(heat));
        }

        if (kind == ProbeKind.Docked)
        {
            await context.AskAsync(Prompts.Acknowledge(
                PromptIds.SelfCheckHangOn,
                "Hang the probe onto the head by hand, as the machine would fetch it. Nothing moves meanwhile. Confirm when it sits.",
                "The machine can't fetch it yet: for that it would have to move over the bed before Z was ever homed."));
        }

        await context.HandsClearAsync(PromptIds.SelfCheckHandsClear, words.Moves
            ? FormattableString.Invariant($"The probe's pin goes out and in {cycles} times; nothing else moves. Watch it. Hands clear, and nothing below it?")
            : FormattableString.Invariant($"Nothing moves: the program looks {cycles} times what the probe's switch reads. Hands and metal away from it?"));
        ProbeCycles seen = await new ProbeTrial(context, words).CycleAsync(cycles);
        ProbeSymptoms symptoms = await PushedAsync(context, words, seen);
        TimeSpan descent = TimeSpan.Zero;
        if (ProbeDiagnosis.Of(symptoms) is ProbeCondition.Healthy or ProbeCondition.NotReported)
        {
            (bool stopped, descent) = await context.InSectionAsync("push by finger", Retake.WhenInterrupted, null, () => DescendAsync(context, words));
            symptoms = symptoms with { StoppedDescent = stopped };
            await context.HandsClearAsync(PromptIds.SelfCheckLiftHandsClear, "The nozzle goes up again, clear of the bed. Hands clear?");
            await context.InSectionAsync("lift", Retake.Continue, null, () => context.DoAsync(new LiftUnhomed(context.Profile.Travel.FirstLiftMm)));
        }

        if (kind == ProbeKind.Docked)
        {
            await context.AskAsync(Prompts.Acknowledge(
                PromptIds.SelfCheckHangBack,
                "If your controller fetches the probe by itself when it homes, put it back into its dock now. Otherwise leave it on.",
                "A controller that fetches a probe which hangs on already would push the head against the dock."));
        }

        return Conclude(symptoms, seen, descent);
    }

    /// <summary>What the person sees and does, added to what the cycles showed; as far as there is any use in it.</summary>
    private async Task<ProbeSymptoms> PushedAsync(StepContext context, ProbeWords words, ProbeCycles seen)
    {
        var symptoms = new ProbeSymptoms(seen.Looks, seen.Failures);
        if (words.Moves)
        {
            Answer moved = await context.AskAsync(Prompts.YesNo(
                PromptIds.SelfCheckMovedEachTime,
                FormattableString.Invariant($"Did the pin come out and go in again each time, {cycles} times?"),
                "A pin that stays in feels nothing; one that stays out is dragged over the bed."));
            symptoms = symptoms with { SeenMoving = moved.Value == "yes" };
        }

        for (int push = 1; push <= pushes && ProbeDiagnosis.Of(symptoms) is not (ProbeCondition.DoesNotMove or ProbeCondition.Flickering); push++)
        {
            symptoms = symptoms with { Looks = [.. symptoms.Looks, .. await new ProbeTrial(context, words).PushAsync(push, pushes)] };
        }

        if (words.Moves && ProbeDiagnosis.Of(symptoms) == ProbeCondition.Dead)
        {
            Answer pulled = await context.AskAsync(Prompts.YesNo(
                PromptIds.SelfCheckPulledItselfIn,
                "The controller did not see your push. Did the pin pull itself in when you pushed it, and stay in?",
                "Some pins answer a push with a short blip and then pull themselves in: too short to be looked at. Then the descent that follows decides. If yours did nothing, it is dead."));
            symptoms = symptoms with { PulledItselfIn = pulled.Value == "yes" };
        }

        return symptoms;
    }

    private static async Task<(bool Stopped, TimeSpan Took)> DescendAsync(StepContext context, ProbeWords words)
    {
        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.SelfCheckPush,
            $"Now the nozzle comes down slowly, high above the bed, and your push must stop it at once. One hand at the mains switch: switch off if it goes on. {words.DuringDescent} It comes down as soon as you confirm. Ready?",
            "Only a probe that stops a descent may be trusted with the bed."));
        TimeSpan began = await context.DoAsync(new ReadRunClock());
        await context.DoAsync(new HomeAxes(Axes.Z, Alone: true)); // a finger is at the probe
        TimeSpan took = await context.DoAsync(new ReadRunClock()) - began;
        await context.DoAsync(new ForgetHoming(Axes.Z));
        Answer high = await context.AskAsync(Prompts.YesNo(
            PromptIds.SelfCheckStoppedHigh,
            "Did the descent stop when you pushed, well above the bed?",
            "If it went on, the controller does not see the probe, or does not heed it."));
        return (high.Value == "yes", took);
    }

    private SelfCheckConclusion Conclude(ProbeSymptoms symptoms, ProbeCycles seen, TimeSpan descent)
    {
        ProbeCondition condition = ProbeDiagnosis.Of(symptoms);
        Finding? finding = ProbeFindings.For(condition, symptoms, seen.Said);
        bool isFit = condition is ProbeCondition.Healthy or ProbeCondition.NotReported && symptoms.StoppedDescent == true;
        return new SelfCheckConclusion(
            isFit ? Verdicts.Fit(WhyFit(condition, symptoms)) : Verdicts.NotFit(finding!.Title),
            finding is null ? [] : [finding],
            cycles,
            seen.Faulty,
            symptoms.StoppedDescent == true,
            Word(condition),
            [.. ProbeFindings.Counts(symptoms)],
            seen.ExtendSeconds.IsEmpty ? 0 : Math.Round(seen.ExtendSeconds.Average(), 3),
            seen.ExtendSeconds.IsEmpty ? 0 : seen.ExtendSeconds.Max(),
            Math.Round(descent.TotalSeconds, 1));
    }

    private static string WhyFit(ProbeCondition condition, ProbeSymptoms symptoms) => condition == ProbeCondition.NotReported
        ? "A push stopped the descent; what the probe's switch reads, the controller does not say."
        : symptoms.PulledItselfIn
            ? "The probe cycled without a fault, pulled itself in when pushed and stopped the descent."
            : "The probe cycled without a fault, was seen both ways and stopped the descent.";

    private static string Word(ProbeCondition condition) => condition switch
    {
        ProbeCondition.DoesNotMove => "does not move",
        ProbeCondition.NotHeeded => "not heeded",
        ProbeCondition.NotReported => "not reported",
        _ => condition.ToString().ToLowerInvariant(),
    };

    private static Finding HotFinding(Temperatures heat) => new(
        "self-check.nozzle-hot", "The nozzle is too hot to be pressed by hand.", null, "nozzle", 1,
        FormattableString.Invariant($"It is at {heat.NozzleCelsius:0} degC; {CoolCelsius:0} degC or less is safe for hands."), "Let it cool, wipe it clean, then do this step again.");
}
