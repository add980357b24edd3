using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.SelfCheck;

/// <summary>Proves the probe in the air: it moves, its switch is open, and a finger's push stops a descent.</summary>
internal sealed class SelfCheckStep(int cycles) : Step
{
    public override string Name => "self-check";

    public override string Title => "Probe self-check in the air";

    public override string Purpose => "A probe that is stuck, dead or wired the wrong way drives the nozzle into the bed at the first homing. In the air that costs nothing.";

    public override string WhatGoodLooksLike => "The probe goes out and in each time, reads open while nothing touches it, and a push with the finger stops the descent at once.";

    public override Milestones Needs => Milestones.HomedXY;

    public override Milestones Gives => Milestones.ProbeTested;

    public override bool NeedsPerson => true;

    public override bool IsGate => true;

    public override StepPlan Plan(MachineProfile profile) => new(Homings: 1, Motions: (2 * cycles) + 1, Questions: 4, Exchanges: cycles);

    /// <summary>Key: <c>cycles</c>, how often the probe is extended and retracted, 1 to 50; 5 unless said otherwise.</summary>
    public static Step Read(TomlSection section) => new SelfCheckStep(section.Whole("cycles", 1, 50, 5));

    internal override async Task<StepConclusion> RunAsync(StepContext context)
    {
        await context.HandsClearAsync(PromptIds.SelfCheckHandsClear, "The probe goes out and in a few times. Hands clear, and nothing below it?");
        int faults = await context.InSectionAsync("cycles", Retake.WhenInterrupted, null, () => CyclesAsync(context));
        if (faults > 0)
        {
            return Conclude(faults, false, StuckFinding(faults));
        }

        bool stopped = await context.InSectionAsync("push by finger", Retake.WhenInterrupted, null, () => PushAsync(context));
        await context.HandsClearAsync(PromptIds.SelfCheckLiftHandsClear, "The nozzle goes up again. Hands clear?");
        await context.InSectionAsync("lift", Retake.Continue, null, () => context.DoAsync(new LiftUnhomed(context.Profile.Travel.FirstLiftMm)));
        return Conclude(0, stopped, stopped ? null : DeadFinding());
    }

    /// <returns>How many cycles showed a fault.</returns>
    private async Task<int> CyclesAsync(StepContext context)
    {
        int faults = 0;
        for (int cycle = 1; cycle <= cycles; cycle++)
        {
            await context.DoAsync(new ExtendProbe());
            ProbeState extended = await context.DoAsync(new ReadProbe());
            if (extended == ProbeState.Triggered)
            {
                faults++;
                await context.DoAsync(new ClearProbeFault());
            }

            await context.DoAsync(new RetractProbe());
            context.Remark(FormattableString.Invariant($"Cycle {cycle} of {cycles}: extended, the probe reads {(extended == ProbeState.Triggered ? "triggered" : "open")}."));
        }

        return faults;
    }

    private static async Task<bool> PushAsync(StepContext context)
    {
        await context.AskAsync(Prompts.Acknowledge(
            PromptIds.SelfCheckPush,
            "The nozzle will come down slowly, high above the bed. One hand at the mains switch. Push the probe up with a finger of the other hand as soon as the nozzle moves: it must stop at once. Ready?",
            "Only a probe that stops a descent may be trusted with the bed. Your finger stays below the probe's tip, never below the nozzle."));
        await context.DoAsync(new HomeAxes(Axes.Z, Alone: true)); // a finger is at the probe
        await context.DoAsync(new ForgetHoming(Axes.Z));
        Answer high = await context.AskAsync(Prompts.YesNo(
            PromptIds.SelfCheckStoppedHigh,
            "Did the descent stop when you pushed the probe, well above the bed?",
            "If it went on, the controller does not see the probe."));
        return high.Value == "yes";
    }

    private SelfCheckConclusion Conclude(int faults, bool stopped, Finding? finding) => new(
        finding is null ? Verdicts.Fit("The probe cycled without a fault and stopped the descent.") : Verdicts.NotFit(finding.Title),
        finding is null ? [] : [finding],
        cycles,
        faults,
        stopped);

    private Finding StuckFinding(int faults) => new(
        "self-check.triggered-in-air",
        "The probe reads triggered while nothing touches it.",
        null,
        "probe",
        1,
        FormattableString.Invariant($"{faults} of {cycles} cycles read triggered with the probe extended in free air."),
        "Look for a bent or dirty pin and a reversed or broken signal wire; clear the fault, then check again. Do not home Z before it is right.");

    private static Finding DeadFinding() => new(
        "self-check.did-not-stop",
        "The descent did not stop when the probe was pushed.",
        null,
        "probe",
        1,
        "The person pushed the probe and the nozzle went on.",
        "Check the probe's signal wire and the controller's probe setting. Do not home Z before a push stops it.");
}
